// What stands beside a report without being part of the fold: lines of the till, notes, and corrections made after the
// seal. The report's own figures never change; both are shown.
import { exactText, LARGEST_AMOUNT, toUnits } from './amount.ts';
import type { Books } from './books.ts';
import type { Correctable, EventDraft, EventOf, Remark, Sale } from './event.ts';
import type { EventId, PersonId } from './ids.ts';
import type { Item } from './item.ts';
import { done, type Result, refuse } from './problem.ts';
import { type Corrected, nameOf, type Report, type ReportItem } from './report.ts';
import { costOf } from './report-rows.ts';
import { firstUnsafe } from './text.ts';
import { tillRows, unloggedAmounts, unloggedUnits } from './till.ts';
import { verdictOf } from './variance.ts';

export type Evidence = { readonly sales: readonly Sale[]; readonly remarks: readonly Remark[] };
export const noEvidence: Evidence = { sales: [], remarks: [] };

/** The report with what the till and later remarks say beside it. */
export function withEvidence(report: Report, { sales, remarks }: Evidence, books: Books): Report {
  const till = sales.length === 0 ? null : tillRows(sales, report.drinks, books);
  const amounts = till === null ? null : unloggedAmounts(till, books);
  const corrections = remarks.filter((one) => one.kind === 'report-corrected');
  const notes = remarks.filter((one) => one.kind === 'note-written');
  return {
    ...report,
    till,
    items: report.items.map((row) => ({
      ...row,
      unlogged: amounts === null ? null : unloggedUnits(amounts, row.item),
      corrected: correctedOf(
        row,
        corrections.filter(({ item }) => item === row.item),
        books,
      ),
    })),
    notes: notes.map(({ item, text, by, at }) => ({ item, text, by: nameOf(books, by), at })),
  };
}

/** Whether more of it makes more or less missing: missing = opening + in − logged − counted. */
const signs: Readonly<Record<Correctable, 1 | -1>> = { received: 1, poured: -1, lost: -1, counted: -1 };

function correctedOf(
  row: ReportItem,
  corrections: readonly EventOf<'report-corrected'>[],
  books: Books,
): Corrected | null {
  const item = books.items.get(row.item as never);
  if (row.missing === null || corrections.length === 0 || item === undefined) return null;
  const change = corrections.reduce((sum, { what, amount }) => sum + signs[what] * amount, 0);
  const missing = Math.round(row.missing * 1000) + change;
  return {
    missing: toUnits(missing),
    missingCostMinor: costOf(missing, item),
    verdict: verdictOf(missing, (row.uncertainty ?? 0) * 1000),
    corrections: corrections.map(({ what, amount, why, by, at }) => ({
      what,
      amount: toUnits(amount),
      why,
      by: nameOf(books, by),
      at,
    })),
  };
}

const LONGEST = 300;

function checkText(text: string): Result<string> {
  const plain = text.trim().replace(/\s+/g, ' ');
  if (plain !== '' && plain.length <= LONGEST && firstUnsafe(plain) === null) return done(plain);
  return refuse(
    'bad-note',
    `A note is 1 to ${LONGEST} plain characters. Write it shorter, without control characters.`,
  );
}

/** A remark on a shift, open or sealed, and on one item of it when one is named. */
export function intendNote(
  shift: EventId | null,
  wish: { readonly text: string; readonly item: Item | null; readonly by: PersonId | null },
): Result<EventDraft[]> {
  if (shift === null) return refuse('no-shift', 'No shift was ever opened. Open one with ullage open.');
  const text = checkText(wish.text);
  if (!text.ok) return text;
  return done([{ kind: 'note-written', shift, by: wish.by, item: wish.item?.id ?? null, text: text.value }]);
}

/** A correction of a sealed report: a new event that says so. The figures of the seal stay beside the corrected ones. */
export function intendCorrection(
  report: Report,
  wish: {
    readonly item: Item;
    readonly what: Correctable;
    readonly amount: number;
    readonly why: string;
    readonly by: PersonId | null;
  },
): Result<EventDraft[]> {
  const { item, what, amount } = wish;
  if (report.shift.status === 'open')
    return refuse(
      'not-sealed',
      'That shift is still open. Record what happened with --at, count again, or take back; no correction is needed.',
    );
  const row = report.items.find((each) => each.item === item.id);
  if (row === undefined || row.missing === null)
    return refuse(
      'not-counted',
      `${item.name} was not counted in that shift, so there is no figure to correct.`,
    );
  const most = Math.min(LARGEST_AMOUNT, item.size * 100);
  if (!Number.isSafeInteger(amount) || amount === 0 || Math.abs(amount) > most)
    return refuse(
      'bad-amount',
      `That is not a change of ${item.name} a correction can have. Give more or less than 0, at most ${exactText(most)}.`,
    );
  const why = checkText(wish.why);
  if (!why.ok) return refuse('no-reason', 'A correction needs its reason. Give --why "delivery note found".');
  const shift = report.shift.id as EventId;
  return done([
    { kind: 'report-corrected', shift, by: wish.by, item: item.id, what, amount, why: why.value },
  ]);
}
