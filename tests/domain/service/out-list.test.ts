// The 86 list: what no longer gives a drink, and the cards that go with it.
import { expect, it } from 'vitest';
import { outList } from '../../../src/domain/service/out-list.ts';
import { anItem, aPiece, aSpec } from '../../support/shelf.ts';
import { counts, opens, pours, receives, type Step, stocks, writes } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const bar = (...steps: readonly Step[]) =>
  booksAfter(
    stocks(anItem('gin'), anItem('rye'), anItem('plum'), aPiece('egg')),
    writes(
      aSpec('quay', ['60 ml gin', '20 ml plum']),
      aSpec('jetty', ['20 ml gin', '50 ml rye']),
      aSpec('pier', ['50 ml rye', '1 each egg']),
    ),
    steps,
  );
const full = [counts('gin', 700), counts('rye', 700), counts('plum', 700), counts('egg', 12)];
const said = (...steps: readonly Step[]) =>
  outList(bar(...steps)).map(({ item, isOut, isUnknown, specs }) => ({
    item: item.id,
    isOut,
    isUnknown,
    specs: specs.map(({ id }) => id),
  }));

it('is empty while every card can be poured', () => {
  expect(said(...full)).toEqual([]);
});

it('tells what is out from what is only too little for some', () => {
  expect(said(...full, counts('gin', 40))).toEqual([
    { item: 'gin', isOut: false, isUnknown: false, specs: ['quay'] },
  ]);
  expect(said(...full, counts('gin', 10))).toEqual([
    { item: 'gin', isOut: true, isUnknown: false, specs: ['quay', 'jetty'] },
  ]);
});

it('lists a measure that fits exactly as still there', () => {
  expect(said(...full, counts('gin', 60))).toEqual([]);
  expect(said(...full, counts('gin', 59.999))).toHaveLength(1);
});

it('puts first what stops most, then goes by name', () => {
  const list = said(...full, counts('egg', 0), counts('plum', 0), counts('rye', 0));
  expect(list.map(({ item }) => item)).toEqual(['rye', 'egg', 'plum']);
});

it('says of what was never counted that nobody knows', () => {
  expect(said(...full.slice(0, 3))).toEqual([{ item: 'egg', isOut: true, isUnknown: true, specs: ['pier'] }]);
});

it('shows how far below zero the books are', () => {
  const books = bar(...full, counts('gin', 30), opens(), pours('quay', 1, [['gin', 60]]));
  expect(outList(books)[0]).toMatchObject({ left: -30_000, isOut: true });
});

it('keeps itself up to date: a delivery to any place brings an item back', () => {
  expect(said(...full, counts('gin', 0), receives('gin', 1, 700, null, 'cellar'))).toEqual([]);
});

it('adds up an item that stands twice on one card', () => {
  const books = booksAfter(
    stocks(anItem('gin')),
    writes(aSpec('twice', ['30 ml gin', '15 ml gin'])),
    counts('gin', 40),
  );
  expect(outList(books).map(({ item }) => item.id)).toEqual(['gin']);
});

it('passes over a card it cannot read', () => {
  const books = booksAfter(stocks(anItem('gin')), writes(aSpec('broken', ['30 ml gin', '15 ml absent'])));
  expect(outList(books)).toEqual([]);
});
