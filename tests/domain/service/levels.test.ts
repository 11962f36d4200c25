// What stands where, how full, and how many drinks it still gives.
import { expect, it } from 'vitest';
import { drinksOf, levelJson, levelsOf } from '../../../src/domain/service/levels.ts';
import { anItem, aPiece, aSpec } from '../../support/shelf.ts';
import { counts, opens, pours, stocks, writes } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const gin = anItem('gin', { shelf: '10' });
const rye = anItem('rye', { shelf: '2' });
const card = writes(aSpec('quay', ['60 ml gin']), aSpec('jetty', ['20 ml gin', '50 ml rye']));

it('shows every place an item stands at, with its containers', () => {
  const books = booksAfter(
    stocks(gin),
    counts('gin', 1050, { sealed: 1, open: [350_000] }),
    counts('gin', 1400, { place: 'cellar', sealed: 2, open: [] }),
  );
  expect(
    levelsOf(books).map(({ place, expected, sealed, open }) => ({ place, expected, sealed, open })),
  ).toEqual([
    { place: 'bar', expected: 1_050_000, sealed: 1, open: [350_000] },
    { place: 'cellar', expected: 1_400_000, sealed: 2, open: [] },
  ]);
});

it('shows an item nobody has seen at home, with nothing, also when it stands elsewhere', () => {
  expect(levelsOf(booksAfter(stocks(gin), card))).toEqual([
    { item: gin, place: 'bar', expected: 0, sealed: 0, open: [], drinksLeft: 0, drinksHere: 0 },
  ]);
  const away = levelsOf(booksAfter(stocks(gin), card, counts('gin', 700, { place: 'cellar' })));
  // 700 ÷ 60 = 11.7 drinks, none of them at the bar.
  expect(away.map(({ place, drinksLeft, drinksHere }) => [place, drinksLeft, drinksHere])).toEqual([
    ['bar', 11, 0],
    ['cellar', 11, 11],
  ]);
});

it('goes by places, then by shelves as numbers, then by names', () => {
  const books = booksAfter(
    stocks(gin, rye, anItem('plum', { shelf: '2' }), anItem('sage', { shelf: '1', place: 'attic' })),
  );
  expect(levelsOf(books).map(({ item }) => item.id)).toEqual(['sage', 'plum', 'rye', 'gin']);
});

it('counts drinks by the card that is poured most', () => {
  const shelf = [stocks(gin, rye), card, counts('gin', 600), counts('rye', 500)];
  // 600 ÷ 60 = 10 while nothing was poured: the first card that needs it.
  expect(drinksOf(booksAfter(...shelf), 'gin', 600_000)).toBe(10);
  const habit = pours('jetty', 5, [['gin', 100]]);
  // 600 ÷ 20 = 30 once the other one is the house's habit.
  expect(drinksOf(booksAfter(...shelf, opens(), habit, opens('2026-11-21')), 'gin', 600_000)).toBe(30);
});

it('says no number for what no card needs, and none for what is below zero', () => {
  const books = booksAfter(stocks(gin, rye), card, opens(), pours('quay', 1, [['gin', 60]]));
  expect(drinksOf(books, 'vermouth', 700_000)).toBeNull();
  expect(levelsOf(booksAfter(stocks(gin)))[0]?.drinksLeft).toBeNull();
  const level = levelsOf(books).find(({ item }) => item.id === 'gin');
  expect(level).toMatchObject({ expected: -60_000, drinksLeft: 0, drinksHere: 0 });
});

it('passes over a card it cannot read', () => {
  const books = booksAfter(stocks(gin), writes(aSpec('broken', ['10 ml gin', '5 ml absent'])));
  expect(drinksOf(books, 'gin', 700_000)).toBeNull();
});

it('writes a level in units for programs', () => {
  const books = booksAfter(
    stocks(aPiece('egg', { name: 'Egg' })),
    counts('egg', 12.5, { open: [12_000, 500] }),
  );
  expect(levelsOf(books).map(levelJson)).toEqual([
    {
      item: 'egg',
      name: 'Egg',
      place: 'bar',
      unit: 'each',
      expected: 12.5,
      sealed: 0,
      open: 12.5,
      drinksLeft: null,
    },
  ]);
});
