// What is made here, against published figures: syrups by the sugar tables, a batch with its water by the dilution figures, whole fruit by their
// yield, dates by the Food Code. Each names its source, section and year.
import { describe, expect, it } from 'vitest';
import { readSpecs } from '../../src/domain/card/spec-card.ts';
import { houseOf, newHouse } from '../../src/domain/catalogue/house.ts';
import { discardAfter, earliest, endOfDay } from '../../src/domain/catalogue/keeping.ts';
import { isPrepCard } from '../../src/domain/catalogue/spec.ts';
import { inputsOf, linesOf } from '../../src/domain/drink/measures.ts';
import { emptyBooks } from '../../src/domain/ledger/books.ts';
import type { Made } from '../../src/domain/ledger/event.ts';
import { madeOf } from '../../src/domain/prep/made.ts';
import { discardDate } from '../../src/domain/standard/food-dates.ts';
import { readItems } from '../../src/exchange/file/item-csv.ts';

const items = `id,name,kind,size,abv,sugar_g_per_l,cost,acid_g_per_l,yields
sugar,White sugar,sugar,1 kg,,,1.20,,
gin,Dry gin,spirit,700 ml,47.3,,,,
bitter,Red bitter,liqueur,700 ml,24,200,,,
vermouth,Red vermouth,wine,750 ml,16.5,150,,,
lime,Lime,fruit,1 each,,,0.30,,30 ml juice
citric,Citric acid,other,1 kg,,,9.00,,
honey,Honey,syrup,1 kg,,823,,,
out,What is made,syrup,1 l,,,,,
`;

/** What follows for what a card makes, of a yield in ml. */
function madeBy(card: string, yieldMl: number, times = 1): Made {
  const read = readItems(items, emptyBooks);
  if (!read.ok) throw new Error(read.problems[0]?.message);
  const books = { ...emptyBooks, items: new Map(read.value.map((item) => [item.id, item])) };
  const specs = readSpecs(`# Making\nmakes: ${yieldMl / times} ml what is made\n${card}\n`, books);
  const [spec] = specs.ok ? specs.value : [];
  if (!specs.ok || spec === undefined || !isPrepCard(spec))
    throw new Error(specs.ok ? 'no card' : specs.problems[0]?.message);
  const lines = linesOf(spec.measures, books);
  const item = books.items.get(spec.makes.item);
  if (!lines.ok || item === undefined) throw new Error('no lines');
  const draws = inputsOf(lines.value, times).map((input) => ({
    item: input.item.id,
    place: 'bar',
    amount: input.amount,
    costMillis:
      input.item.costMinor === null ? null : (input.amount * input.item.costMinor * 1000) / input.item.size,
  }));
  return madeOf(books, { item, lines: lines.value, times, amount: yieldMl * 1000, draws });
}

describe('syrups (ICUMSA density of sucrose, 20 °C; the yields computed from it)', () => {
  // 1:1 by weight is 50 °Bx, 1229.6 kg/m³, 0.615 g/ml, and gives 1626 ml; 2:1 is 66.67 °Bx, 1326.8, 0.8845, 1131 ml.
  it.each([
    ['1000 g white sugar\n1 l water', 1626, 615],
    ['1000 g white sugar\n500 ml water', 1131, 884.5],
  ])('%s', (card, yieldMl, perLitre) => {
    const made = madeBy(card, yieldMl);
    expect(Math.abs((made.sugarGramsPerLitre ?? 0) - perLitre)).toBeLessThan(1);
    expect(made.abvPercent).toBe(0);
  });

  it('what was measured counts: less came out, so it is stronger, in the measure of the two yields', () => {
    const [card, yields] = ['1000 g white sugar\n1 l water', [1626, 1500]] as const;
    const [a, b] = yields.map((ml) => madeBy(card, ml).sugarGramsPerLitre ?? 0);
    expect((b ?? 0) / (a ?? 1)).toBeCloseTo(1626 / 1500, 3);
  });

  it('honey by its own sugars: 82 g in 100 g (USDA FoodData Central, from memory), two parts to one of water by weight', () => {
    // 823 g a kilogram as its card says; 1000 g at 1.433 g/ml with 500 ml of water gives about 1198 ml.
    expect(Math.abs((madeBy('1000 g honey\n500 ml water', 1198).sugarGramsPerLitre ?? 0) - 687)).toBeLessThan(
      1,
    );
  });

  it('twice over is the same syrup', () => {
    expect(madeBy('1000 g white sugar\n1 l water', 3252, 2)).toEqual(
      madeBy('1000 g white sugar\n1 l water', 1626),
    );
  });
});

it('a batched Negroni with its water: 20.8 % (Arnold, Liquid Intelligence, 2014, p. 123: 126.5 ml of 90 at 29.3 %; the book says 20.7)', () => {
  const made = madeBy('300 ml dry gin\n300 ml red bitter\n300 ml red vermouth\n365 ml water', 1265);
  expect(Math.abs((made.abvPercent ?? 0) - 20.8)).toBeLessThan(0.06);
  // Nothing is lost: 263.4 ml of ethanol before and after.
  expect(((made.abvPercent ?? 0) * 1265) / 100).toBeCloseTo(263.4, 0);
});

it('twenty pours of 22.5 ml lime juice are 450 ml, 15 limes at 30 ml (common practice, no source)', () => {
  const read = readItems(items, emptyBooks);
  const books = { ...emptyBooks, items: new Map((read.ok ? read.value : []).map((item) => [item.id, item])) };
  const specs = readSpecs('# Juice\nmakes: 450 ml what is made\n15 lime\n', books);
  const lines = linesOf((specs.ok ? specs.value[0] : undefined)?.measures ?? [], books);
  expect(lines.ok && inputsOf(lines.value, 1).map(({ amount }) => amount)).toEqual([15_000]);
  // Its acid is that of lime juice by bar convention: 6.0 % w/v (Arnold 2014, p. 136, seen second-hand).
  expect(madeBy('15 lime', 450).acidGramsPerLitre).toBeCloseTo(60, 1);
  expect(madeBy('15 lime', 450).costMinor).toBe(1000);
});

it('an acid weighed in is all of it acid', () => {
  expect(madeBy('60 g citric acid\n940 ml water', 1000).acidGramsPerLitre).toBe(60);
});

describe('dates (FDA Food Code 2022, 3-501.17: seven days, the day of preparation is the first)', () => {
  const house = houseOf(new Map([['zone', 'America/New_York']]));
  it.each(['2025-03-01', '2024-02-26'])('seven days from %s', (since) => {
    // Four in the afternoon on the wall there.
    const made = `${since}T21:00:00.000Z`;
    expect(discardAfter({ many: 7, unit: 'days' }, made, house)).toBe(
      endOfDay(discardDate({ since }), house),
    );
  });
  it('what is made after midnight is of the night before: its first day is the business day', () => {
    expect(discardAfter({ many: 1, unit: 'days' }, '2025-03-02T05:00:00.000Z', house)).toBe(
      endOfDay('2025-03-01', house),
    );
  });
  it('a mixture of parts dated 1 and 4 March: the 7th', () => {
    const dates = ['2025-03-04', '2025-03-01'].map((since) =>
      discardAfter({ many: 7, unit: 'days' }, `${since}T15:00:00.000Z`, newHouse),
    );
    expect(earliest(dates)).toBe(endOfDay('2025-03-07', newHouse));
    expect(earliest([null, dates[0] ?? null])).toBe(dates[0]);
    expect(earliest([null])).toBeNull();
  });
  it('hours are hours of the clock, also over the hour that is put forward', () => {
    expect(discardAfter({ many: 12, unit: 'hours' }, '2025-03-09T04:00:00.000Z', house)).toBe(
      '2025-03-09T16:00:00.000Z',
    );
  });
});
