// What stands beside a report without being part of the fold: lines of the till, notes, and corrections made after the
// seal. The report's own figures never change; both are shown.
import { verdictOf } from '../count/variance.ts';
import type { Books } from '../ledger/books.ts';
import { personName } from '../ledger/books.ts';
import type { Correctable, EventOf, Loss, Remark, Sale } from '../ledger/event.ts';
import { toUnits } from '../value/amount.ts';
import { valueAtCost } from '../value/money.ts';
import type { CameAfter, Corrected, Report, ReportItem, ReportLoss } from './report.ts';
import { costOf, piecesOf } from './rows.ts';
import { tillRows, unloggedAmounts, unloggedUnits } from './till.ts';

/** A shift in time: which of them a count or a correction belongs to. */
export type ShiftSpan = {
  readonly id: string;
  readonly openedAt: string;
  readonly sealedAt: string | null;
};

export type Evidence = {
  readonly sales: readonly Sale[];
  readonly losses: readonly ValuedLoss[];
  readonly remarks: readonly Remark[];
  /** All shifts, oldest first. */
  readonly shifts: readonly ShiftSpan[];
  /** The books of the seal, when the report is of a sealed shift and the books have gone on since. */
  readonly sealed: Books | null;
  /** What came after the seal of the last of them. */
  readonly cameAfter: CameAfter | null;
};
/** A loss with what one container cost when it happened, whatever a later delivery did to the price. */
export type ValuedLoss = Loss & { readonly costMinor: number | null };

export const noEvidence: Evidence = {
  sales: [],
  losses: [],
  remarks: [],
  shifts: [],
  sealed: null,
  cameAfter: null,
};

/**
 * The report with what the till and later remarks say beside it. `names` are the newest books: what a name of the till means
 * is learned later, and holds for the lines before. `notes` are those of the report's own shifts.
 */
export function withEvidence(
  report: Report,
  { sales, losses, remarks, shifts, cameAfter }: Evidence,
  books: Books,
  names: Books,
  own: ReadonlySet<string>,
): Report {
  const till = sales.length === 0 ? null : tillRows(sales, report, names);
  const amounts = till === null ? null : unloggedAmounts(till, books, names);
  const corrections = remarks.filter((one) => one.kind === 'report-corrected');
  const notes = remarks.filter((one) => one.kind === 'note-written' && own.has(one.shift ?? ''));
  return {
    ...report,
    ...(cameAfter === null ? {} : { cameAfter }),
    till,
    losses: losses.flatMap((loss) => lossOf(loss, books, names) ?? []).sort(byWorth),
    items: report.items.map((row) => ({
      ...row,
      unlogged: amounts === null ? null : unloggedUnits(amounts, row.item),
      corrected: correctedOf(
        row,
        corrections.filter(({ item }) => item === row.item),
        shifts,
        books,
      ),
    })),
    notes: notes.flatMap((note) =>
      note.kind === 'note-written'
        ? [
            {
              item: note.item,
              name: note.item === null ? null : (books.items.get(note.item)?.name ?? note.item),
              text: note.text,
              by: personName(names, note.by),
              at: note.at,
            },
          ]
        : [],
    ),
  };
}

function lossOf(
  { item: id, amount, why, by, at, costMinor }: ValuedLoss,
  books: Books,
  names: Books,
): ReportLoss | null {
  const item = books.items.get(id);
  if (item === undefined) return null;
  const { name, unit } = item;
  const whole = unit === 'ml' && amount % item.size === 0 ? amount / item.size : 0;
  return {
    item: id,
    name,
    unit,
    pieces: piecesOf(item),
    amount: toUnits(amount),
    containers: whole === 0 ? null : `${whole} × ${item.sizeText}`,
    why,
    by: personName(names, by),
    at,
    costMinor: costMinor === null ? null : valueAtCost(amount, costMinor, item.size),
  };
}

/** The dearest first, as it happened where they are worth the same. */
const byWorth = (a: ReportLoss, b: ReportLoss): number =>
  (b.costMinor ?? 0) - (a.costMinor ?? 0) || (a.at === b.at ? 0 : a.at < b.at ? -1 : 1);

/** Whether more of it makes more or less missing: missing = opening + in − logged − counted. */
const signs: Readonly<Record<Correctable, 1 | -1>> = { received: 1, poured: -1, lost: -1, counted: -1 };

/**
 * What a correction does to a row that runs from one count to another: 0 when it is not about that stretch. A count that lies
 * within it cancels; the one it opens with works the other way round; what flowed belongs to the shifts in between.
 */
function signOf(
  { what, shift }: EventOf<'report-corrected'>,
  row: ReportItem,
  shifts: readonly ShiftSpan[],
): number {
  // As the fold has it: a count between two shifts belongs to the one that comes.
  const ownerOf = (at: string | null): string | undefined =>
    at === null ? undefined : shifts.find(({ sealedAt }) => sealedAt === null || at <= sealedAt)?.id;
  const closing = ownerOf(row.to);
  // What is corrected is the count a night closed with; the row begins with it when it was made in that night.
  const began = shifts.find(
    ({ openedAt, sealedAt }) => openedAt <= (row.from ?? '') && (row.from ?? '') <= (sealedAt ?? ''),
  );
  if (what === 'counted') return shift === closing ? signs.counted : shift === began?.id ? 1 : 0;
  const opened = shifts.find(({ id }) => id === shift)?.openedAt ?? '';
  const isWithin = opened >= (row.from ?? '') && opened <= (row.to ?? '');
  return isWithin || shift === closing ? signs[what] : 0;
}

function correctedOf(
  row: ReportItem,
  all: readonly EventOf<'report-corrected'>[],
  shifts: readonly ShiftSpan[],
  books: Books,
): Corrected | null {
  const corrections = all.filter((one) => signOf(one, row, shifts) !== 0);
  const item = books.items.get(row.item);
  if (row.missing === null || corrections.length === 0 || item === undefined) return null;
  const change = corrections.reduce((sum, one) => sum + signOf(one, row, shifts) * one.amount, 0);
  const missing = Math.round(row.missing * 1000) + change;
  return {
    missing: toUnits(missing),
    missingCostMinor: costOf(missing, item),
    verdict: verdictOf(missing, (row.uncertainty ?? 0) * 1000),
    corrections: corrections.map(({ what, amount, why, by, at }) => ({
      what,
      amount: toUnits(amount),
      why,
      by: personName(books, by),
      at,
    })),
  };
}
