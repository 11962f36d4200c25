// The items file: what a line may say, what is filled in, and that writing and reading give the same shelf.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { itemColumns } from '../../../src/domain/card/item-card.ts';
import type { Item } from '../../../src/domain/catalogue/item.ts';
import { emptyBooks } from '../../../src/domain/ledger/books.ts';
import { readItems, starterItems, writeItems } from '../../../src/exchange/file/item-csv.ts';
import { anItem, aPiece, messagesOf, must } from '../../support/shelf.ts';
import { sets, stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const file = (header: string, ...lines: readonly string[]): string => [header, ...lines].join('\n');
const short = 'id,name,kind,size';
const items = (text: string, books = emptyBooks): Item[] => must(readItems(text, books));
const refused = (text: string, books = emptyBooks): string[] => messagesOf(readItems(text, books));

it('needs four cells and fills in the rest', () => {
  expect(items(file(short, 'gin,Dry gin,Spirit,700 ml'))).toEqual([
    {
      ...anItem('gin', { name: 'Dry gin', abvPercent: null, costMinor: null, shelf: '' }),
    },
  ]);
  // Counted by what suits the unit: pieces, grams, else tenths.
  const counted = items(file(short, 'egg,Egg,egg,1 each', 'salt,Salt,other,1 kg', 'gin,Gin,spirit,1 l'));
  expect(counted.map(({ count, size, unit }) => [count, size, unit])).toEqual([
    ['pieces', 1000, 'each'],
    ['grams', 1_000_000, 'g'],
    ['tenths', 1_000_000, 'ml'],
  ]);
});

it('reads every column', () => {
  const [lime] = items(
    file(
      itemColumns.join(','),
      'lime,Lime,limes|key lime,fruit,1 each,12.5,0,9,0.45,80,fridge,2a,40,pieces,Sulphites,wash,1010,60,30 ml juice|8 wedge',
    ),
  );
  expect(lime).toMatchObject({
    also: ['limes', 'key lime'],
    tareMilligrams: 12_500,
    abvPercent: 0,
    sugarGramsPerLitre: 9,
    costMinor: 45,
    caseOf: 80,
    place: 'fridge',
    shelf: '2a',
    par: 40,
    allergens: ['sulphites'],
    caution: 'wash',
    densityKgPerM3: 1010,
    acidGramsPerLitre: 60,
    yields: [
      { amount: 30_000, unit: 'ml', of: 'juice' },
      { amount: 8000, unit: 'each', of: 'wedge' },
    ],
  });
});

it("reads money in the house's currency", () => {
  const yen = booksAfter(sets('currency', 'JPY'));
  expect(items(file(`${short},cost`, 'gin,Gin,spirit,700 ml,3200'), yen)[0]?.costMinor).toBe(3200);
  expect(refused(file(`${short},cost`, 'gin,Gin,spirit,700 ml,32.5'), yen)).toEqual([
    'cost "32.5" is not an amount of JPY. Write it as 18.90.',
  ]);
});

it('says of each wrong cell what would be right', () => {
  expect(refused(file(short, 'Dry Gin,Dry gin,spirit,700 ml'))).toEqual([
    'id "Dry Gin" is not lower-case letters, digits and hyphens. Write it as dry-gin.',
  ]);
  for (const size of ['700', '', 'big', '0 ml', '700 ml full', '1001 l'])
    expect(refused(file(short, `gin,Gin,spirit,${size}`))[0], size).toMatch(/^size .* Write 700 ml, 1 l/);
  expect(refused(file(`${short},abv`, 'gin,Gin,spirit,700 ml,101'))).toEqual([
    'abv "101" is not a number from 0 to 100. Write it plainly, as 40 or 0.5.',
  ]);
  expect(refused(file(`${short},case`, 'gin,Gin,spirit,700 ml,0'))[0]).toMatch(
    /^case "0" is not a whole number/,
  );
  expect(refused(file(`${short},count`, 'gin,Gin,spirit,700 ml,weigh'))).toEqual([
    'count "weigh" is not a way to count. Write tenths, ml, grams or pieces.',
  ]);
  expect(refused(file(`${short},yields`, 'lime,Lime,fruit,1 each,much'))[0]).toMatch(/^yields "much" is not/);
});

it('takes no character that plays tricks on a screen', () => {
  expect(refused(file(short, 'gin,Dry\u202egin,spirit,700 ml'))).toEqual([
    'name holds the character U+202E. Take it out.',
  ]);
});

it('lists all problems of a file with their lines', () => {
  const read = readItems(
    file(short, 'Gin,Gin,spirit,700 ml', 'rye,Rye,spirit,700 ml', 'egg,Egg,egg,'),
    emptyBooks,
  );
  expect(read.ok ? [] : read.problems.map(({ line }) => line)).toEqual([2, 4]);
});

it('gives one name to one item, in the file and on the shelf', () => {
  expect(refused(file(short, 'gin,Gin,spirit,700 ml', 'gin,Other,spirit,1 l'))).toEqual([
    'Other stands twice in the file (id gin). Take one out.',
  ]);
  expect(refused(file(`${short},also`, 'gin,Gin,spirit,700 ml,', 'old,Old one,spirit,1 l,GIN'))).toEqual([
    'The name "gin" belongs to gin too. Give one of them another.',
  ]);
  const shelf = booksAfter(stocks(anItem('gin', { name: 'Dry gin', also: ['juniper'] })));
  expect(refused(file(short, 'new,Juniper,spirit,700 ml'), shelf)).toEqual([
    'The name "juniper" belongs to gin too. Give one of them another.',
  ]);
  // An item that is written anew keeps its own names.
  expect(items(file(short, 'gin,Juniper,spirit,700 ml'), shelf)).toHaveLength(1);
  // A name that it gives up in the same file is free for another.
  expect(items(file(short, 'gin,Gin,spirit,700 ml', 'new,Juniper,spirit,1 l'), shelf)).toHaveLength(2);
});

it('reads its own starter file', () => {
  expect(items(starterItems).map(({ id }) => id)).toEqual([
    'dry-gin',
    'lemon-juice',
    'simple-syrup',
    'egg-white',
  ]);
});

const word = fc.stringMatching(/^[a-zé梅][a-zé梅,"'=;-]{0,10}[a-zé梅]$/u);
const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: null });
const decimal = (most: number) => fc.integer({ min: 0, max: most * 10 }).map((tenths) => tenths / 10);
const drawn = fc.record({
  name: word,
  kind: word,
  tareMilligrams: maybe(fc.nat(2_000_000)),
  abvPercent: maybe(decimal(100)),
  sugarGramsPerLitre: maybe(decimal(1500)),
  costMinor: maybe(fc.nat(1_000_000)),
  caseOf: maybe(fc.integer({ min: 1, max: 99 })),
  par: maybe(decimal(50)),
  place: word,
  shelf: fc.constantFrom('', '2', '=2', '-3', "'4"),
  caution: fc.oneof(fc.constant(''), word),
  allergens: fc.array(fc.constantFrom('eggs', 'milk', 'nuts'), { maxLength: 2 }),
});

it('writes a shelf that reads back the same, money, guarded cells and other scripts included', () => {
  fc.assert(
    fc.property(fc.array(drawn, { maxLength: 5 }), (list) => {
      const shelf = list.map((over, index) =>
        anItem(`item-${index}`, {
          ...over,
          name: `${over.name} n${index}`,
          also: [`other ${index}`, `third, ${index}`],
        }),
      );
      const books = booksAfter(stocks(...shelf, aPiece('egg', { name: 'the egg' })));
      expect(items(writeItems(books), books)).toEqual([...books.items.values()]);
    }),
    { numRuns: 60 },
  );
});
