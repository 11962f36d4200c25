// Writing in the rooms: a spec, an item, a person or a setting, in the lines its file has. Nothing is written until all of it can be read.
import type { Spec } from '../../../domain/catalogue/spec.ts';
import { intendSpec } from '../../../domain/intent/intend-house.ts';
import { intendPour } from '../../../domain/intent/intend-pour.ts';
import type { Intent } from '../../../domain/intent/intent.ts';
import { type Books, isOpen } from '../../../domain/ledger/books.ts';
import type { ItemId, SpecId } from '../../../domain/value/ids.ts';
import { memoBy } from '../../../domain/value/memo.ts';
import { done, type Problem, type Result } from '../../../domain/value/problem.ts';
import type { DialogOf } from '../../../screens/dialog.ts';
import { writeLines } from '../../../screens/frame/write-view.ts';
import type { AppState } from '../../state.ts';
import { asks, only, type Question, refused } from '../question.ts';
import { exists, nothingRead, outOfUse, type Read, readers } from './readers.ts';

type Write = DialogOf<'write'>;

const readOnce = memoBy(
  (books: Books, what: Write['what'], text: string, was: string | null) => [books, what, text, was],
  (books, what, text, was): Read => readers[what](books, text, was),
);

const readOf = (books: Books, { what, text, was }: Write): Read => readOnce(books, what, text, was);

const kindOf: Readonly<Record<Write['what'], string>> = {
  spec: 'drink',
  item: 'item',
  person: 'person',
  supplier: 'supplier',
  place: 'place',
  setting: 'setting',
};

function titleOf({ what, was, pours, text }: Write): string {
  const isPrep = what === 'spec' && /^makes:/m.test(text);
  if (was !== null)
    return `This ${isPrep ? 'card' : kindOf[what]}, written anew from now on; its past stays as it was`;
  return `A new ${isPrep ? 'card of what is made here' : kindOf[what]}${pours === null ? '' : '; it is poured when it is written'}`;
}

/** A card that already bears this name would be replaced unseen. */
const clash = (books: Books, { was }: Write, { spec, item }: Read): Problem | null => {
  const id = spec?.id ?? item?.id ?? '';
  const isTaken =
    was === null && (books.specs.has(id as SpecId) || (item !== null && books.items.has(id as ItemId)));
  const gone = books.specs.get(id as SpecId)?.retired ?? books.items.get(id as ItemId)?.retired;
  return isTaken ? (gone === true ? outOfUse : exists) : null;
};

function checked(books: Books, dialog: Write): Read {
  const read = readOf(books, dialog);
  const twice = read.problems.length > 0 ? null : clash(books, dialog, read);
  return twice === null ? read : { ...nothingRead, problems: [twice] };
}

const moves: Readonly<Record<string, (text: string, at: number) => number>> = {
  left: (_, at) => Math.max(0, at - 1),
  right: (text, at) => Math.min(text.length, at + 1),
  home: (text, at) => text.lastIndexOf('\n', at - 1) + 1,
  end: (text, at) => (text.indexOf('\n', at) === -1 ? text.length : text.indexOf('\n', at)),
};

const columnOf = ({ text, at }: Write): number => at - (moves.home?.(text, at) ?? 0);

/** The line above or below, in the column where the way up or down began: a short line between does not forget it. */
function besideLine(dialog: Write, by: number): Write {
  const { text } = dialog;
  const lines = text.split('\n');
  const row = text.slice(0, dialog.at).split('\n').length - 1;
  const column = dialog.column ?? columnOf(dialog);
  const target = Math.max(0, Math.min(lines.length - 1, row + by));
  const start = lines.slice(0, target).reduce((sum, one) => sum + one.length + 1, 0);
  return { ...dialog, column, at: start + Math.min(column, (lines[target] ?? '').length) };
}

/** What moves the cursor sideways or changes the text begins a new way up or down. */
const moved = (dialog: Write, text: string, at: number): Write => ({ ...dialog, text, at, column: null });

const LONGEST = 4000;

export const write: Question<'write'> = {
  ask: ({ books }, dialog, size) => {
    const { spec, said, changes, problems } = checked(books, dialog);
    const { text, at } = dialog;
    return writeLines(books, { text, at, title: titleOf(dialog), spec, said, problems, changes }, size);
  },
  type: (dialog, typed) => {
    const text = `${dialog.text.slice(0, dialog.at)}${typed}${dialog.text.slice(dialog.at)}`.slice(
      0,
      LONGEST,
    );
    return moved(dialog, text, Math.min(text.length, dialog.at + typed.length));
  },
  erase: (dialog) => {
    const at = Math.max(0, dialog.at - 1);
    return moved(dialog, dialog.text.slice(0, at) + dialog.text.slice(dialog.at), at);
  },
  waits: true,
  // What is half written is put aside, and goes on with the same key.
  esc: (state, dialog) => ({ ...state, dialog: null, message: null, draft: dialog }),
  key: (state, dialog, key) => {
    const shown = (now: Write) => only({ ...state, message: null, dialog: now });
    if (key === 'up' || key === 'down') return shown(besideLine(dialog, key === 'up' ? -1 : 1));
    const move = moves[key];
    if (move !== undefined) return shown(moved(dialog, dialog.text, move(dialog.text, dialog.at)));
    if (key !== 'enter') return null;
    if (isAtEnd(dialog)) return save(state, dialog);
    return shown(nextLine(dialog));
  },
};

/** On an empty line with nothing but empty ones below: a second Enter says that this is all. */
const isAtEnd = ({ text, at }: Write): boolean =>
  text.slice(at).trim() === '' && /\n[^\S\n]*$/.test(text.slice(0, at));

/**
 * Enter goes on to the next line: of a form, whose lines are there already, always; of a card to one that is empty or still to be filled,
 * else to a new one below. A line is never torn in two.
 */
function nextLine(dialog: Write): Write {
  const end = moves.end?.(dialog.text, dialog.at) ?? dialog.text.length;
  const rest = dialog.text.slice(end);
  const isThere = rest !== '' && (dialog.what !== 'spec' || /^\n(?:[a-z]+:)?[^\S\n]*(\n|$)/.test(rest));
  const text = isThere ? dialog.text : `${dialog.text.slice(0, end)}\n${rest}`.slice(0, LONGEST);
  return moved(dialog, text, moves.end?.(text, Math.min(text.length, end + 1)) ?? text.length);
}

function save(state: AppState, dialog: Write) {
  const { spec, intent, problems } = checked(state.books, dialog);
  const [problem] = problems;
  if (problem !== undefined)
    return refused(
      { ...state, dialog: moved(dialog, dialog.text, mendAt(dialog, problem.line)) },
      `${problem.line === undefined ? '' : `Line ${problem.line}: `}${problem.message}`,
    );
  return asks(
    { ...state, draft: null },
    spec === null || dialog.pours === null ? intent : (books) => writtenAndPoured(books, spec, dialog),
  );
}

/** What is wrong with a card as a whole stands at its name; it is mended where the writing was, never by going on in the name. */
const mendAt = ({ what, text }: Write, line: number | undefined): number =>
  what === 'spec' && line === 1 && /^#+\s*\S/.test(text) ? text.length : endOfLine(text, line);

/** Where a mend begins: at the end of the line that can't be read. */
const endOfLine = (text: string, line: number | undefined): number =>
  line === undefined ? text.length : text.split('\n').slice(0, line).join('\n').length;

/** From Pour it is poured in the same breath: what is on the screen is on disk, both or neither. */
function writtenAndPoured(books: Books, spec: Spec, { pours }: Write): ReturnType<Intent> {
  const written = intendSpec(books, spec);
  if (!written.ok || pours === null || !isOpen(books.shift)) return written;
  const poured = intendPour(books, { spec, count: pours, as: 'sale', by: null, changes: [] });
  return poured.ok ? done([...written.value, ...poured.value]) : (poured as Result<never>);
}
