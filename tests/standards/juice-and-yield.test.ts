// Juice, acid and what a fruit yields. Penniston et al., J. Endourol. 22(3):567-570, 2008 (published); bar convention 6 %
// (Arnold 2014, p. 136-137, seen second-hand); 30 ml a lime: common practice, no source. Traster, Foundations of Cost
// Control, ch. 7 (published, seen second-hand). Dittmer & Keefe ch. 16 for the sales value of a bottle.
import { describe, expect, it } from 'vitest';
import { readSpecs, writeSpecs } from '../../src/domain/card/spec-card.ts';
import { drinkFigures } from '../../src/domain/drink/drink.ts';
import { scaleDrink } from '../../src/domain/drink/scale.ts';
import { emptyBooks } from '../../src/domain/ledger/books.ts';
import { readItems, writeItems } from '../../src/exchange/file/item-csv.ts';

const csv =
  'id,name,kind,size,abv,yields\nlime,Lime,fruit,1 each,,30 ml juice|8 wedge|6 twist\nrum,Rum,spirit,700 ml,40,\nbitters,Bitters,bitters,200 ml,44,\negg,Egg white,egg,1 each,,\n';
const card =
  '# Test Sour\n60 ml rum\n22.5 ml lime juice\n2 wedge lime\n2 dash bitters\n1 egg white\ndo: shake\n';

function bar() {
  const items = readItems(csv, emptyBooks);
  if (!items.ok) throw new Error(items.problems[0]?.message);
  const books = { ...emptyBooks, items: new Map(items.value.map((item) => [item.id, item])) };
  const specs = readSpecs(card, books);
  if (!specs.ok) throw new Error(specs.problems.map(({ message }) => message).join());
  return { ...books, specs: new Map(specs.value.map((spec) => [spec.id, spec])) };
}
const books = bar();
const spec = [...books.specs.values()][0] as never;
const figures = (() => {
  const made = drinkFigures(spec, books);
  if (!made.ok) throw new Error(made.problems[0]?.message);
  return made.value;
})();

describe('a fruit that yields', () => {
  it('22.5 ml of juice and a wedge of eight draw on limes when no juice is stocked', () => {
    expect(
      figures.lines.filter(({ item }) => item.id === ('lime' as never)).map(({ amount }) => amount),
    ).toEqual([750, 250]);
  });
  it('22.5 ml of lime juice hold 1.35 g acid at 6 %, in the band 1.0 to 1.7', () => {
    expect(figures.acidGrams).toBeCloseTo(1.35, 6);
    expect(figures.acidGrams - figures.acidUncertaintyGrams).toBeGreaterThan(1.0);
  });
  it('twenty such pours take 450 ml: 15 limes, whole and rounded up', () => {
    const batch = scaleDrink(figures, { kind: 'times', times: 20 }, false);
    expect(
      batch.ok && batch.value.lines.filter(({ item }) => item.id === ('lime' as never))[0]?.containers,
    ).toBe(15);
  });
  it('survives the way out and back, cards and items', () => {
    const items = readItems(writeItems(books), emptyBooks);
    expect(items.ok && items.value).toEqual([...books.items.values()]);
    const specs = readSpecs(writeSpecs(books), books);
    expect(specs.ok && specs.value).toEqual([...books.specs.values()]);
  });
});

describe('a batch', () => {
  it('fills a bottle with its water: 700 ml in all, ethanol kept, odd measures spoken of', () => {
    const batch = scaleDrink(figures, { kind: 'volume', targetMl: 700 }, true);
    if (!batch.ok) throw new Error('no batch');
    const liquid = batch.value.lines
      .filter(({ item }) => item.unit === 'ml')
      .reduce((sum, { amount }) => sum + amount / 1000, 0);
    // The juice of its limes and 30 ml a white stand in the bottle, too.
    const others =
      (figures.volumeMl -
        figures.lines.reduce((sum, { item, amount }) => sum + (item.unit === 'ml' ? amount / 1000 : 0), 0)) *
      batch.value.times;
    expect(liquid + others + batch.value.waterMl).toBeCloseTo(700, 1);
    expect(batch.value.warnings.join()).toMatch(/dash does not scale[\s\S]*egg does not keep/);
  });
  it('refuses nothing, and too much', () => {
    expect(scaleDrink(figures, { kind: 'times', times: 0 }, false).ok).toBe(false);
    expect(scaleDrink(figures, { kind: 'volume', targetMl: 1e9 }, false).ok).toBe(false);
  });
});

describe('yield and sales value', () => {
  it('a 15 gallon keg that gives 108 pints yields 90 % (Traster 7a)', () =>
    expect((108 * 16) / (15 * 128)).toBe(0.9));
  it('tequila 17.50 for 750 ml, yield 94.7 %, 1.25 oz: 0.91 a shot (Traster 7b)', () =>
    expect(((17.5 / (0.75 * 33.8)) * 1.25) / 0.947).toBeCloseTo(0.9112, 4));
});
