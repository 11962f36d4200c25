// A card with its figures, as text and for programs. Figures worked out by hand beside each.
import { expect, it } from 'vitest';
import type { Item } from '../../../src/domain/catalogue/item.ts';
import { drinkFigures } from '../../../src/domain/drink/drink.ts';
import { cardText, specJson } from '../../../src/exchange/print/card-text.ts';
import { anItem, aPiece, aSpec, must } from '../../support/shelf.ts';
import { stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const gin = anItem('gin', { name: 'Dry gin' });
const plum = anItem('plum', {
  name: 'Plum Cordial',
  kind: 'cordial',
  abvPercent: 0,
  sugarGramsPerLitre: 300,
  size: 500_000,
  costMinor: 1000,
});
const bar = (...more: readonly Item[]) => booksAfter(stocks(gin, plum, ...more));
const ferry = aSpec('ferry', ['50 ml gin', '25 ml plum'], {
  name: 'Sage Ferry',
  glass: 'coupe',
  ice: 'none',
  garnish: 'plum skin',
  method: 'stir',
  priceMinor: 1000,
});
const shown = (over: Partial<typeof ferry> = {}, times = 1, more: readonly Item[] = []): string[] => {
  const books = bar(...more);
  const spec = { ...ferry, ...over };
  const figures = must(drinkFigures(spec, books));
  return cardText(spec, figures, books, { times, unit: 'ml', left: 14 }).split('\n');
};

it('says how to make it and what it comes to', () => {
  // 20 ml of alcohol in 75 ml: 26.7 %. Stirred + 29.34 ml of water (tests/domain/drink/dilution): 104 ml, 19.2 % ±1.1
  // (6 ÷ 104.34 of it). US 20 × 0.789 ÷ 14 = 1.13, UK 2.00, AU 1.58. Sugar 25 × 0.3 = 7.5 g. Cost 50 × 3 + 25 × 2 = 2.00.
  expect(shown()).toEqual([
    'Sage Ferry',
    '  50 ml        dry gin',
    '  25 ml        plum cordial',
    'method       stir',
    'glass        coupe, ice: none',
    'garnish      plum skin',
    'volume       75 ml, about 104 ml ±6 with water from the ice',
    'strength     26.7 %, about 19.2 % ±1.1 served',
    'standard     1.13 US drinks, 2.00 UK units, 1.58 AU drinks',
    'sugar, acid  7.5 g sugar, 0 g acid ±0',
    'cost         2.00 EUR',
    'price        10.00 EUR',
    'pour cost    20.00 %',
    'allergens    none noted; ask the label',
    'left         14 drinks',
  ]);
});

it('multiplies for a round all but the strength and the pour cost', () => {
  const round = shown({}, 3);
  expect(round).toContain('Sage Ferry × 3');
  expect(round).toContain('  150 ml       dry gin');
  expect(round).toContain('volume       225 ml, about 313 ml ±18 with water from the ice');
  expect(round).toContain('strength     26.7 %, about 19.2 % ±1.1 served');
  expect(round).toContain('cost         6.00 EUR');
  expect(round).toContain('pour cost    20.00 %');
});

it('says no water where no formula fits, and leaves out what is empty', () => {
  const built = shown({ method: '', glass: '', ice: '', garnish: '', priceMinor: null });
  expect(built).toContain('volume       75 ml');
  expect(built).toContain('strength     26.7 %');
  expect(built.some((line) => /^(method|glass|garnish|price|pour cost)/.test(line))).toBe(false);
});

it('names what was assumed because a card does not say', () => {
  const mystery = anItem('mystery', { name: 'Mystery', kind: 'liqueur', abvPercent: null, costMinor: null });
  const spec = aSpec('dark', ['50 ml gin', '10 ml mystery']);
  const lines = shown({ measures: spec.measures }, 1, [mystery]);
  expect(lines).toContain('assumed      no alcohol in Mystery: their cards do not say');
  expect(lines).toContain('assumed      no sugar in Mystery: their cards do not say');
  expect(lines.some((line) => line.startsWith('cost'))).toBe(false);
});

it('says a note beside its measure, and nothing that plays tricks on the terminal', () => {
  const [one, two] = ferry.measures;
  if (one === undefined || two === undefined) throw new Error('two measures');
  const lines = shown({ measures: [{ ...one, note: 'from the freezer\u001b[2J' }, two] });
  expect(lines).toContain('  50 ml        dry gin, from the freezer·[2J');
});

it('has no strength where nothing is measured by volume', () => {
  const lines = shown({ measures: aSpec('eggs', ['2 each egg']).measures }, 1, [
    aPiece('egg', { name: 'Egg', kind: 'herb' }),
  ]);
  expect(lines).toContain('  2            egg');
  expect(lines.some((line) => line.startsWith('strength'))).toBe(false);
});

const json = (times: number) => specJson(ferry, must(drinkFigures(ferry, bar())), 14, times);

it('says the same to programs, exactly', () => {
  expect(json(1)).toMatchObject({
    spec: 'ferry',
    measures: [
      { item: 'gin', amount: '50', unit: 'ml', ml: 50 },
      { item: 'plum', amount: '25', unit: 'ml', ml: 25 },
    ],
    volumeMl: 75,
    ethanolMl: 20,
    abvPercent: 26.67,
    dilution: {
      method: 'stir',
      addedMl: 29.3,
      finalMl: 104.3,
      finalAbvPercent: 19.17,
      addedUncertaintyMl: 6,
    },
    sugarGrams: 7.5,
    costMinor: 200,
    priceMinor: 1000,
    pourCostPercent: 20,
    left: 14,
  });
  expect(json(3)).toMatchObject({
    measures: [
      { amount: '150', ml: 150 },
      { amount: '75', ml: 75 },
    ],
    volumeMl: 225,
    abvPercent: 26.67,
    costMinor: 600,
    pourCostPercent: 20,
  });
});
