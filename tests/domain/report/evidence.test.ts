// What is said of a shift after its seal stands beside the report and never changes it.
import { expect, it } from 'vitest';
import type { Correctable, Event, Remark, Sale } from '../../../src/domain/ledger/event.ts';
import { closingReport } from '../../../src/domain/report/closing.ts';
import { noEvidence, withEvidence } from '../../../src/domain/report/evidence.ts';
import type { Report } from '../../../src/domain/report/report.ts';
import { anItem, aSpec, eventIdOf } from '../../support/shelf.ts';
import { at, counts, joins, opens, pours, seals, stocks, writes } from '../../support/steps.ts';
import { booksAfter, told } from '../../support/told.ts';

// Steps 1 to 4 come before the first night; the first shift is told as the fifth, the second as the eighth.
const [before, shown] = [eventIdOf(5), eventIdOf(8)];
const books = booksAfter(
  stocks(anItem('gin')),
  writes(aSpec('quay', ['60 ml gin'], { name: 'Quay' })),
  joins('Ines'),
  at('2026-11-19T17:00:00.000Z', counts('gin', 2000)),
  at('2026-11-19T18:00:00.000Z', opens('2026-11-19')),
  at('2026-11-19T23:00:00.000Z', counts('gin', 1400, { deviation: 20_000 })),
  seals(),
  at('2026-11-20T18:00:00.000Z', opens('2026-11-20')),
  pours('quay', 10, [['gin', 600]]),
  at('2026-11-20T23:00:00.000Z', counts('gin', 600, { deviation: 20_000 })),
  seals(),
);
const shifts = [
  { id: before, openedAt: '2026-11-19T18:00:00.000Z', sealedAt: '2026-11-19T23:30:00.000Z' },
  { id: shown, openedAt: '2026-11-20T18:00:00.000Z', sealedAt: '2026-11-20T23:30:00.000Z' },
  { id: eventIdOf(99), openedAt: '2026-11-21T18:00:00.000Z', sealedAt: null },
];
const sealed = closingReport(books) as Report;

const isRemark = (event: Event): event is Remark =>
  event.kind === 'note-written' || event.kind === 'report-corrected';
const correction = (what: Correctable, ml: number, shift = shown): Remark[] =>
  told({
    kind: 'report-corrected',
    item: 'gin',
    what,
    amount: ml * 1000,
    why: 'a slip was found',
    by: 'ines',
    shift,
  }).filter(isRemark);
const withRemarks = (...remarks: readonly Remark[]) =>
  withEvidence(sealed, { ...noEvidence, remarks, shifts }, books, books, new Set([shown])).items[0];
const corrected = (...remarks: readonly Remark[]) => withRemarks(...remarks)?.corrected;

it('leaves a report as it is when nothing was said', () => {
  // 1400 − 600 = 800 expected, 600 counted: 200 missing.
  expect(sealed.items[0]?.missing).toBe(200);
  const report = withEvidence(sealed, { ...noEvidence, shifts }, books, books, new Set([shown]));
  expect(report).toEqual({ ...sealed, till: null, notes: [] });
});

it('says what would be missing: more received makes more, more poured, lost or counted makes less', () => {
  expect(corrected(...correction('received', 700))?.missing).toBe(900);
  expect(corrected(...correction('poured', 60))?.missing).toBe(140);
  expect(corrected(...correction('lost', 150))?.missing).toBe(50);
  expect(corrected(...correction('counted', 190))?.missing).toBe(10);
  expect(corrected(...correction('poured', -60))?.missing).toBe(260);
});

it('judges the corrected figure by the same ±, at the same cost, and keeps the sealed one', () => {
  const row = withRemarks(...correction('counted', 190));
  expect(row?.corrected).toMatchObject({
    missingCostMinor: 30,
    verdict: 'within-count-error',
    corrections: [{ what: 'counted', amount: 190, why: 'a slip was found', by: 'Ines' }],
  });
  expect([row?.missing, row?.verdict]).toEqual([200, sealed.items[0]?.verdict]);
});

it('adds corrections up', () => {
  expect(corrected(...correction('poured', 60), ...correction('lost', 40))?.missing).toBe(100);
});

it('turns the count a stretch opened with the other way round', () => {
  // The night before counted 100 too little: 100 more were there, so 100 more are missing.
  expect(corrected(...correction('counted', 100, before))?.missing).toBe(300);
});

it('passes over what was said of another stretch or another item', () => {
  expect(corrected(...correction('poured', 60, before))).toBeNull();
  expect(corrected(...correction('counted', 60, eventIdOf(99)))).toBeNull();
  const other = correction('poured', 60).map((one) => ({ ...one, item: 'rye' }) as Remark);
  expect(corrected(...other)).toBeNull();
});

it('shows the notes of its own shifts, with the name of who wrote and of what', () => {
  const note = (text: string, shift: string | null, item: string | null) => ({
    kind: 'note-written' as const,
    text,
    item,
    shift,
    by: 'ines',
  });
  const remarks = told(
    note('two bottles lent out', shown, 'gin'),
    note('quiet night', shown, null),
    note('of another night', before, null),
    note('of no night', null, null),
    note('of what is gone', shown, 'gone'),
  ).filter(isRemark);
  const { notes } = withEvidence(sealed, { ...noEvidence, remarks, shifts }, books, books, new Set([shown]));
  expect(notes.map(({ name, text, by }) => [name, text, by])).toEqual([
    ['gin', 'two bottles lent out', 'Ines'],
    [null, 'quiet night', 'Ines'],
    ['gone', 'of what is gone', 'Ines'],
  ]);
});

it('says what the till would explain', () => {
  const sales = told({
    kind: 'drink-sold',
    drink: 'QUAY',
    count: 12,
    soldAt: '2026-11-20T21:00:00.000Z',
    priceMinor: null,
    seller: null,
  }).filter((event): event is Sale => event.kind === 'drink-sold');
  const report = withEvidence(sealed, { ...noEvidence, sales, shifts }, books, books, new Set([shown]));
  // Twelve sold, ten logged: two times 60 ml.
  expect(report.till).toMatchObject([{ drink: 'Quay', sold: 12, logged: 10, difference: 2 }]);
  expect(report.items[0]?.unlogged).toBe(120);
  expect(report.items[0]?.missing).toBe(200);
});
