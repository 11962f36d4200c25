// What is said of a shift afterwards, or why it can't be: a note, a correction of a sealed report.
import type { Item } from '../catalogue/item.ts';
import type { Correctable, EventDraft } from '../ledger/event.ts';
import type { Report } from '../report/report.ts';
import { exactText, LARGEST_AMOUNT } from '../value/amount.ts';
import type { EventId, PersonId } from '../value/ids.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { firstUnsafe } from '../value/text.ts';

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
  if (shift === null)
    return refuse(
      'no-shift',
      'No shift was ever opened. Open one with ullage open.',
      65,
      'No shift was ever opened. Press ^O to open one.',
    );
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
      65,
      'That shift is still open. Pour late, count again, or take back; no correction is needed.',
    );
  const row = report.items.find((each) => each.item === item.id);
  if (row === undefined || row.missing === null)
    return refuse(
      'not-counted',
      `${item.name} was not counted in that shift, so there is no figure to correct.`,
    );
  const most = Math.min(LARGEST_AMOUNT, item.size * 1000);
  if (!Number.isSafeInteger(amount) || amount === 0 || Math.abs(amount) > most)
    return refuse(
      'bad-amount',
      `That is not a change of ${item.name} a correction can have. Give more or less than 0, at most ${exactText(most)}.`,
    );
  const why = checkText(wish.why);
  if (!why.ok)
    return refuse(
      'no-reason',
      'A correction needs its reason. Give --why "delivery note found".',
      65,
      'A correction needs its reason. Write it after the amount: 700 ml delivery note found.',
    );
  const shift = report.shift.id as EventId;
  return done([
    { kind: 'report-corrected', shift, by: wish.by, item: item.id, what, amount, why: why.value },
  ]);
}
