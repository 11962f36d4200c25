// Books while they are folded: nobody else's map is changed, and what nobody changed keeps its identity.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { emptyBooks } from '../../../src/domain/ledger/books.ts';
import { booksOf, foldingOf, own } from '../../../src/domain/ledger/folding.ts';
import { foldInOrder } from '../../../src/domain/ledger/ledger.ts';
import { nights } from '../../support/events.ts';
import { foldEvents } from '../../support/fold.ts';
import { anItem, specIdOf } from '../../support/shelf.ts';
import { counts, stocks } from '../../support/steps.ts';
import { booksAfter, told } from '../../support/told.ts';

const books = booksAfter(stocks(anItem('gin')), counts('gin', 700));

it('copies a map once, before its first change', () => {
  const folding = foldingOf(books);
  folding.habit = own(folding, folding.habit).set(specIdOf('quay'), 1);
  const first = folding.habit;
  folding.habit = own(folding, folding.habit).set(specIdOf('jetty'), 1);
  expect(folding.habit).toBe(first);
  expect(books.habit.size).toBe(0);
});

it('hands out books that no later change reaches', () => {
  const folding = foldingOf(books);
  folding.habit = own(folding, folding.habit).set(specIdOf('quay'), 1);
  const handed = booksOf(folding);
  folding.habit = own(folding, folding.habit).set(specIdOf('quay'), 2);
  expect(handed.habit.get(specIdOf('quay'))).toBe(1);
  expect(booksOf(folding).habit.get(specIdOf('quay'))).toBe(2);
});

it('keeps the identity of what nobody changed, so that indexes made of it stay good', () => {
  const after = foldEvents(books, told(stocks(anItem('rye'))));
  expect(after.stock).toBe(books.stock);
  expect(after.specs).toBe(books.specs);
  expect(after.items).not.toBe(books.items);
});

it('is gone without a trace: books carry nothing of the folding', () => {
  expect(Object.keys(booksOf(foldingOf(emptyBooks))).sort()).toEqual(Object.keys(emptyBooks).sort());
});

/** All of it as text, maps too. */
const textOf = (value: unknown): string =>
  JSON.stringify(value, (_, inner) => (inner instanceof Map ? [...inner] : inner));

it('never changes the books it started from, nor those it handed out on the way', () => {
  fc.assert(
    fc.property(nights(20), nights(20), (before, after) => {
      const start = foldEvents(emptyBooks, before);
      const text = textOf(start);
      const onTheWay: [unknown, string][] = [];
      foldInOrder(start, after, (_, snapshot) => {
        const handed = snapshot();
        onTheWay.push([handed, textOf(handed)]);
      });
      expect(textOf(start)).toBe(text);
      for (const [handed, said] of onTheWay) expect(textOf(handed)).toBe(said);
    }),
    { numRuns: 40 },
  );
});
