// What runs out tonight, and about when. Pours come at chance: ±2√n of n pours.
import { expect, it } from 'vitest';
import { outBy } from '../../../src/domain/service/pace.ts';
import { anItem } from '../../support/shelf.ts';
import { at, counts, loses, opens, pours, type Step, seals, stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const now = '2026-11-20T20:00:00.000Z';
const opened = at('2026-11-20T18:00:00.000Z', opens());
/** A shelf counted before a shift that was opened two hours ago. */
const shelf = (ml: number, ...night: readonly Step[]) =>
  booksAfter(
    stocks(anItem('gin'), anItem('rye')),
    at('2026-11-20T17:00:00.000Z', counts('gin', ml)),
    counts('rye', 5000),
    opened,
    night,
  );
const gin = (count: number, ml = 50): Step => pours('quay', count, [['gin', ml * count]]);
const clock = (instant: string): string => instant.slice(11, 16);

it('says when, and how sure that is', () => {
  // 16 pours of 50 = 800 ml in 2 h; 800 left: 2 h more. 2/√16 = ½: between 2/1.5 = 1 h 20 and 2/0.5 = 4 h.
  const [out, ...others] = outBy(shelf(1600, gin(16)), now, 6);
  expect(others).toEqual([]);
  expect(out).toMatchObject({ left: 800_000 });
  expect([out?.earliest, out?.about, out?.latest].map((instant) => clock(instant ?? ''))).toEqual([
    '21:20',
    '22:00',
    '00:00',
  ]);
});

it('counts each glass of a round as a pour, and says nothing of fewer than five', () => {
  expect(outBy(shelf(400, gin(4)), now, 12)).toEqual([]);
  expect(outBy(shelf(500, gin(5)), now, 12)).toHaveLength(1);
  expect(outBy(shelf(500, gin(3), gin(2)), now, 12)).toHaveLength(1);
});

it('looks no further ahead than asked', () => {
  const books = shelf(1600, gin(16));
  expect(outBy(books, now, 1.99)).toEqual([]);
  expect(outBy(books, now, 2)).toHaveLength(1);
});

it('does not take the first minutes for the pace of a night', () => {
  // Six pours within a minute count as half an hour: 300 ml in 0.5 h, 300 left: half an hour more, not a minute.
  const [out] = outBy(shelf(600, gin(6)), '2026-11-20T18:01:00.000Z', 6);
  expect(clock(out?.about ?? '')).toBe('18:31');
});

it('puts what is gone soonest first', () => {
  const books = booksAfter(
    stocks(anItem('gin'), anItem('rye')),
    at('2026-11-20T17:00:00.000Z', counts('gin', 1600)),
    counts('rye', 1000),
    opened,
    pours('both', 16, [
      ['gin', 800],
      ['rye', 800],
    ]),
  );
  expect(outBy(books, now, 6).map(({ item }) => item.id)).toEqual(['rye', 'gin']);
});

it('says nothing of what is gone already, and nothing without an open shift', () => {
  expect(outBy(shelf(300, gin(6)), now, 6)).toEqual([]);
  expect(outBy(shelf(200, gin(6)), now, 6)).toEqual([]);
  expect(outBy(shelf(1600, gin(16), seals()), now, 6)).toEqual([]);
  expect(outBy(booksAfter(stocks(anItem('gin'))), now, 6)).toEqual([]);
});

it('knows that a spill leaves less', () => {
  // 400 of the 800 are spilled: one hour instead of two.
  const [out] = outBy(shelf(1600, gin(16), loses('gin', 400)), now, 6);
  expect(clock(out?.about ?? '')).toBe('21:00');
});
