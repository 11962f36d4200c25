// Spec cards: a drink as a bartender would write it, and that writing and reading give the same card.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readSpecs, starterSpecs, writeCard, writeSpecs } from '../../../src/domain/card/spec-card.ts';
import type { Spec } from '../../../src/domain/catalogue/spec.ts';
import { anItem, aPiece, aSpec, messagesOf, must } from '../../support/shelf.ts';
import { sets, stocks, writes } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const shelf = stocks(
  anItem('gin', { name: 'Dry gin', also: ['juniper'] }),
  anItem('plum', { name: 'Plum cordial' }),
  anItem('shochu', { name: '焼酎' }),
  anItem('no-7', { name: 'Amaro, house No. 7' }),
  aPiece('egg', { name: 'Egg white' }),
  aPiece('lime', {
    name: 'Lime',
    kind: 'fruit',
    yields: [
      { amount: 30_000, unit: 'ml', of: 'juice' },
      { amount: 8000, unit: 'each', of: 'wedge' },
    ],
  }),
);
const books = booksAfter(shelf);
const specs = (text: string, at = books): Spec[] => must(readSpecs(text, at));
const refused = (text: string, at = books): string[] => messagesOf(readSpecs(text, at));
const measures = (text: string) => specs(text)[0]?.measures;

it('reads a card line by line', () => {
  const card = `# Mole End
also: mole, end of the mole
family: Sour
glass: coupe
ice: none
price: 13.50
tags: Winter | egg
40 ml   dry gin
1/2 oz  Plum Cordial, chilled
1       egg white
do: shake; double strain
garnish: lime wheel
`;
  expect(specs(card)).toEqual([
    {
      id: 'mole-end',
      name: 'Mole End',
      also: ['mole', 'end of the mole'],
      family: 'sour',
      glass: 'coupe',
      ice: 'none',
      garnish: 'lime wheel',
      method: 'shake; double strain',
      tags: ['winter', 'egg'],
      priceMinor: 1350,
      measures: [
        { quantity: '40', unit: 'ml', item: 'gin' },
        { quantity: '1/2', unit: 'oz', item: 'plum', note: 'chilled' },
        { quantity: '1', unit: 'each', item: 'egg' },
      ],
    },
  ]);
});

it('reads many cards, any line end, tabs, comments and empty lines', () => {
  const text = '// winter\r\n# One\r\n40 ml\tdry gin\r\n\r\n## Two\r30 ml juniper\n';
  expect(specs(text).map(({ name, measures: list }) => [name, list[0]?.item])).toEqual([
    ['One', 'gin'],
    ['Two', 'gin'],
  ]);
});

it('understands the juice and the wedge of a fruit, other scripts and amounts without a number', () => {
  expect(measures('# A\n22.5 ml lime juice')).toEqual([{ quantity: '22.5', unit: 'ml', item: 'lime' }]);
  expect(measures('# A\n1 wedge lime')).toEqual([{ quantity: '1', unit: 'wedge', item: 'lime' }]);
  expect(measures('# A\n40ml 焼酎')).toEqual([{ quantity: '40', unit: 'ml', item: 'shochu' }]);
  expect(measures('# A\ndash plum cordial')).toEqual([{ quantity: '1', unit: 'dash', item: 'plum' }]);
});

it('says what a line should be', () => {
  expect(refused('40 ml gin')).toEqual([
    'A card begins with # and its name. Put that line first.',
    'There is no card in this file. A card begins with # and its name.',
  ]);
  expect(refused('')).toEqual(['There is no card in this file. A card begins with # and its name.']);
  expect(refused('# A\ncolour: red\n40 ml gin')[0]).toMatch(
    /^"colour" is not a line of a card\. Known are makes, keeps, also, /,
  );
  expect(refused('# A\nice: none\nice: cubes\n40 ml dry gin')).toEqual([
    '"ice" stands twice on this card. Take one out.',
  ]);
  expect(refused('# A\nprice: cheap\n40 ml dry gin')).toEqual([
    'price "cheap" is not an amount of EUR. Write it as 14.00.',
  ]);
  expect(refused('# A')).toContain('A has no measure. Write one a line, as 60 ml dry gin.');
  expect(refused('# A\n40 ml dry gim')[0]).toBe('No item is called "dry gim". Near it: Dry gin.');
  expect(refused('# A\nlots of it')[0]).toMatch(/^"lots of it" is not a measure/);
  expect(refused('# A\n40 ml dry\u202egin')).toContain('This line holds the character U+202E. Take it out.');
  expect(refused('# A\n20 ml egg white')[0]).toMatch(/^Egg white is kept in pieces/);
});

it('lists problems in the order of the lines', () => {
  const read = readSpecs('# A\n40 ml absent\n# B\nprice: x\n2 thimble gin', books);
  const lines = read.ok ? [] : read.problems.map(({ line }) => line ?? 0);
  expect(lines).toEqual([...lines].sort((a, b) => a - b));
  expect(lines.length).toBeGreaterThan(2);
});

it('gives one name to one card', () => {
  expect(refused('# A\n40 ml juniper\n# a\n30 ml juniper')).toEqual([
    'a stands twice in the file. Take one out.',
  ]);
  const known = booksAfter(
    shelf,
    writes(aSpec('mole-end', ['40 ml gin'], { name: 'Mole End', also: ['mole'] })),
  );
  expect(refused('# Mole\n40 ml juniper', known)).toEqual([
    'The name "mole" belongs to mole-end too. Give one of them another.',
  ]);
  expect(specs('# Mole End\n30 ml juniper', known)).toHaveLength(1);
});

it('writes a card as a person would', () => {
  const spec = aSpec('mole-end', ['40 ml gin', '22.5 ml lime', '1 wedge lime', '1 each egg', '10 ml no-7'], {
    name: 'Mole End',
    glass: 'coupe',
    priceMinor: 1350,
    method: 'shake',
  });
  expect(writeCard(spec, books)).toBe(`# Mole End
glass: coupe
price: 13.50
40 ml      dry gin
22.5 ml    lime juice
1 wedge    lime
1          egg white
10 ml      no-7
do: shake
`);
  expect(writeCard({ ...spec, priceMinor: 1350 }, booksAfter(shelf, sets('currency', 'JPY')))).toContain(
    'price: 1350\n',
  );
});

it('reads its own starter card', () => {
  const bar = booksAfter(
    stocks(
      anItem('dry-gin', { name: 'Dry gin' }),
      anItem('lemon-juice', { name: 'Lemon juice' }),
      anItem('simple-syrup', { name: 'Simple syrup' }),
      aPiece('egg-white', { name: 'Egg white' }),
    ),
  );
  expect(specs(starterSpecs, bar).map(({ name }) => name)).toEqual(['House Sour']);
});

const words = fc.stringMatching(/^[a-zé梅]([a-zé梅 ;'=.-]{0,12}[a-zé梅])?$/u);
const drawn = fc.record({
  name: fc.stringMatching(/^[a-z]([a-z ]{0,12}[a-z])?$/),
  family: words,
  glass: fc.oneof(fc.constant(''), words),
  ice: words,
  garnish: words,
  method: words,
  tags: fc.array(words, { maxLength: 2 }),
  priceMinor: fc.option(fc.nat(100_000), { nil: null }),
});
const line = fc.constantFrom(
  '40 ml gin',
  '1 1/2 oz plum',
  '22.5 ml lime',
  '2 wedge lime',
  '1 each lime',
  '1 each egg',
  '2 dash no-7',
  '1½ cl shochu',
);

it('reads back exactly the cards it wrote', () => {
  const cards = fc.uniqueArray(fc.tuple(drawn, fc.array(line, { minLength: 1, maxLength: 5 })), {
    selector: ([{ name }]) => name.replaceAll(' ', ''),
    minLength: 1,
    maxLength: 4,
  });
  fc.assert(
    fc.property(cards, (list) => {
      // Ids are made of the names, so they are left to the reading.
      const written = list.map(([over, lines], index) => aSpec(`card-${index}`, lines, over));
      const bar = booksAfter(shelf, writes(...written));
      const back = specs(writeSpecs(bar), books);
      expect(back.map(({ id: _, ...rest }) => rest)).toEqual(written.map(({ id: _, ...rest }) => rest));
    }),
    { numRuns: 60 },
  );
});
