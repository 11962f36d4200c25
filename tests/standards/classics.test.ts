// The published classics as spec cards: their measures, total volume and ethanol. IBA official specs (published, seen
// second-hand; public transcriptions agree). The measures are the external check; the ethanol follows from the strengths
// assumed here: spirits, triple sec, curaçao 40 %, red bitter 25, sweet vermouth 16, dry vermouth 18, sparkling 12,
// aromatic bitters 44. IBA gives no ml for dash, bar spoon, splash, cube: those are the house's sizes.
import { describe, expect, it } from 'vitest';
import { readSpecs } from '../../src/domain/card/spec-card.ts';
import { drinkFigures } from '../../src/domain/drink/drink.ts';
import { type Books, emptyBooks } from '../../src/domain/ledger/books.ts';
import { readItems } from '../../src/exchange/file/item-csv.ts';
import { demoText } from '../support/night.ts';

const itemsCsv = `id,name,kind,size,abv
gin,gin,spirit,700 ml,40
white-rum,white rum,spirit,700 ml,40
amber-rum,amber rum,spirit,700 ml,40
dark-rum,molasses rum,spirit,700 ml,40
tequila,tequila,spirit,700 ml,40
cognac,cognac,spirit,700 ml,40
rye,rye,spirit,700 ml,40
bourbon,bourbon,spirit,700 ml,40
absinthe,anise spirit,spirit,700 ml,40
triple-sec,triple sec,liqueur,700 ml,40
curacao,orange curacao,liqueur,700 ml,40
red-bitter,red bitter,liqueur,1 l,25
sweet-vermouth,sweet vermouth,wine,750 ml,16
dry-vermouth,dry vermouth,wine,750 ml,18
sparkling,sparkling wine,wine,750 ml,12
bitters,aromatic bitters,bitters,200 ml,44
lime,lime juice,juice,1 l,0
lemon,lemon juice,juice,1 l,0
orgeat,orgeat,syrup,1 l,0
syrup,simple syrup,syrup,1 l,0
cola,cola,mixer,1 l,0
soda,soda,mixer,1 l,0
sugar,sugar,other,1 each,
`;

const cards: readonly (readonly [name: string, totalMl: number, ethanolMl: number, measures: string])[] = [
  ['Daiquiri', 80, 24, '60 ml white rum\n20 ml lime juice'],
  ['Negroni', 90, 24.3, '30 ml gin\n30 ml red bitter\n30 ml sweet vermouth'],
  ['Americano', 60, 12.3, '30 ml red bitter\n30 ml sweet vermouth'],
  ['Boulevardier', 105, 30.3, '45 ml rye\n30 ml red bitter\n30 ml sweet vermouth'],
  ['Manhattan', 70.9, 23.6, '50 ml rye\n20 ml sweet vermouth\n1 dash aromatic bitters'],
  ['Dry Martini', 70, 25.8, '60 ml gin\n10 ml dry vermouth'],
  ['Cardinale', 70, 22.1, '40 ml gin\n20 ml dry vermouth\n10 ml red bitter'],
  ['Margarita', 85, 28, '50 ml tequila\n20 ml triple sec\n15 ml lime juice'],
  ['Sidecar', 90, 28, '50 ml cognac\n20 ml triple sec\n20 ml lemon juice'],
  ['White Lady', 90, 28, '40 ml gin\n30 ml triple sec\n20 ml lemon juice'],
  ['Between the Sheets', 110, 36, '30 ml white rum\n30 ml cognac\n30 ml triple sec\n20 ml lemon juice'],
  ['Old Fashioned', 45, 18, '45 ml bourbon\n1 cube sugar'],
  [
    'Mai Tai',
    127.5,
    30,
    '30 ml amber rum\n30 ml molasses rum\n15 ml orange curacao\n15 ml orgeat\n30 ml lime juice\n7.5 ml simple syrup',
  ],
  ['French 75', 120, 19.2, '30 ml gin\n15 ml lemon juice\n15 ml simple syrup\n60 ml sparkling wine'],
  ['Sazerac', 50, 20, '50 ml cognac\n1 cube sugar'],
  ['Cuba Libre', 180, 20, '50 ml white rum\n120 ml cola\n10 ml lime juice'],
];

function booksWith(): Books {
  const items = readItems(itemsCsv, emptyBooks);
  if (!items.ok) throw new Error(items.problems[0]?.message);
  return { ...emptyBooks, items: new Map(items.value.map((item) => [item.id, item])) };
}

describe('volume and ethanol, ±0.05 ml', () => {
  const books = booksWith();
  it.each(cards)('%s: %f ml, %f ml ethanol', (name, total, ethanol, measures) => {
    const specs = readSpecs(`# ${name}\n${measures}\ndo: stir\n`, books);
    if (!specs.ok) throw new Error(specs.problems[0]?.message);
    const figures = drinkFigures(specs.value[0] as never, books);
    if (!figures.ok) throw new Error(figures.problems[0]?.message);
    expect(Math.abs(figures.value.volumeMl - total)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(figures.value.ethanolMl - ethanol)).toBeLessThanOrEqual(0.05);
  });

  it('the demo house pours the same measures of those it marks as published', () => {
    const cardsOf = new Map(
      demoText('specs.txt')
        .split(/^# /m)
        .slice(1)
        .map((card) => [card.split('\n')[0], card]),
    );
    for (const [name, , , measures] of cards) {
      const card = cardsOf.get(name) ?? '';
      expect([name, card.includes('tags: published')]).toEqual([name, true]);
      const amounts = measures.match(/^[\d.]+ ml/gm) ?? [];
      expect([name, amounts.length > 0]).toEqual([name, true]);
      for (const amount of amounts)
        expect([name, amount, new RegExp(`^${amount.replace('.', '\\.')}\\s`, 'm').test(card)]).toEqual([
          name,
          amount,
          true,
        ]);
    }
  });

  it('cost of a Margarita: 24.00 and 18.00 per 700 ml, lime 0.30 per 30 ml -> 2.379, rounded once at the end 2.38', () => {
    const priced = readItems(
      'id,name,kind,size,cost\ntequila,tequila,spirit,700 ml,24.00\ntriple-sec,triple sec,liqueur,700 ml,18.00\nlime,lime juice,juice,30 ml,0.30\n',
      emptyBooks,
    );
    if (!priced.ok) throw new Error('items');
    const withCost = { ...emptyBooks, items: new Map(priced.value.map((item) => [item.id, item])) };
    const specs = readSpecs(
      '# Margarita\n50 ml tequila\n20 ml triple sec\n15 ml lime juice\ndo: shake\n',
      withCost,
    );
    const figures = specs.ok ? drinkFigures(specs.value[0] as never, withCost) : specs;
    expect(figures.ok && figures.value.costMinor).toBe(238);
  });
});
