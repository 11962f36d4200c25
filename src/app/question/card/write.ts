// Writing a card in the rooms: a spec or an item, in the lines its file has. Nothing is written until all of it can be read.
import { itemChanges, specChanges } from '../../../domain/card/card-changes.ts';
import { readItemLines } from '../../../domain/card/item-lines.ts';
import { readSpecs } from '../../../domain/card/spec-card.ts';
import type { Item } from '../../../domain/catalogue/item.ts';
import type { Spec } from '../../../domain/catalogue/spec.ts';
import { intendItem, intendSpec } from '../../../domain/intent/intend-house.ts';
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

type Write = DialogOf<'write'>;

/** What the lines say: a card, an item, or what is wrong with them. */
type Read = { readonly spec: Spec | null; readonly item: Item | null; readonly problems: readonly Problem[] };

const readOnce = memoBy(
  (books: Books, what: Write['what'], text: string, was: string | null) => [books, what, text, was],
  (books, what, text, was): Read => {
    if (what === 'item') {
      const read = readItemLines(text, books, was);
      return read.ok
        ? { spec: null, item: read.value, problems: [] }
        : { spec: null, item: null, problems: read.problems };
    }
    // A card that is written anew keeps its id, whatever it is called now.
    const others =
      was === null ? books : { ...books, specs: new Map([...books.specs].filter(([id]) => id !== was)) };
    const read = readSpecs(text, others);
    if (!read.ok) return { spec: null, item: null, problems: read.problems };
    const [spec, more] = read.value;
    if (spec === undefined || more !== undefined)
      return {
        spec: null,
        item: null,
        problems: [
          { code: 'bad-spec', exit: 65, message: 'Write one card at a time, with one name after the #.' },
        ],
      };
    return { spec: was === null ? spec : { ...spec, id: was as SpecId }, item: null, problems: [] };
  },
);

const readOf = (books: Books, { what, text, was }: Write): Read => readOnce(books, what, text, was);

/** What is gone and what is new, so that nothing is replaced unseen. */
function changesOf(books: Books, { what, was }: Write, { spec, item }: Read): string[] {
  if (was === null) return [];
  const [card, stocked] = [books.specs.get(was as SpecId), books.items.get(was as ItemId)];
  if (what === 'spec') return card === undefined || spec === null ? [] : specChanges(card, spec, books);
  return stocked === undefined || item === null ? [] : itemChanges(stocked, item, books);
}

const titleOf = ({ what, was, pours }: Write): string => {
  const kind = what === 'spec' ? 'drink' : 'item';
  return was === null
    ? `A new ${kind}${pours === null ? '' : '; it is poured when it is written'}`
    : `This ${kind}, written anew from now on; its past stays as it was`;
};

/** A card that already bears this name would be replaced unseen. */
const clash = (books: Books, { was }: Write, { spec, item }: Read): Problem | null => {
  const id = spec?.id ?? item?.id ?? '';
  const isTaken =
    was === null && (books.specs.has(id as SpecId) || (item !== null && books.items.has(id as ItemId)));
  return isTaken
    ? {
        code: 'exists',
        exit: 65,
        message: 'There is one of that name. Mark it in the Book and press ^N to write it anew.',
      }
    : null;
};

function checked(books: Books, dialog: Write): Read {
  const read = readOf(books, dialog);
  const twice = read.problems.length > 0 ? null : clash(books, dialog, read);
  return twice === null ? read : { spec: null, item: null, problems: [twice] };
}

const moves: Readonly<Record<string, (text: string, at: number) => number>> = {
  left: (_, at) => Math.max(0, at - 1),
  right: (text, at) => Math.min(text.length, at + 1),
  home: (text, at) => text.lastIndexOf('\n', at - 1) + 1,
  end: (text, at) => (text.indexOf('\n', at) === -1 ? text.length : text.indexOf('\n', at)),
  up: (text, at) => besideLine(text, at, -1),
  down: (text, at) => besideLine(text, at, 1),
};

/** The same column in the line above or below. */
function besideLine(text: string, at: number, by: number): number {
  const lines = text.split('\n');
  const before = text.slice(0, at).split('\n');
  const [row, column] = [before.length - 1, (before.at(-1) ?? '').length];
  const target = Math.max(0, Math.min(lines.length - 1, row + by));
  const start = lines.slice(0, target).reduce((sum, one) => sum + one.length + 1, 0);
  return start + Math.min(column, (lines[target] ?? '').length);
}

const LONGEST = 4000;

export const write: Question<'write'> = {
  ask: ({ books }, dialog, size) => {
    const { spec, item, problems } = checked(books, dialog);
    const { text, at } = dialog;
    const said = item === null ? [] : [`${item.name}, ${item.kind}, ${item.sizeText}, at ${item.place}`];
    const changes = changesOf(books, dialog, { spec, item, problems });
    return writeLines(books, { text, at, title: titleOf(dialog), spec, said, problems, changes }, size);
  },
  type: (dialog, typed) => {
    const text = `${dialog.text.slice(0, dialog.at)}${typed}${dialog.text.slice(dialog.at)}`.slice(
      0,
      LONGEST,
    );
    return { ...dialog, text, at: Math.min(text.length, dialog.at + typed.length) };
  },
  erase: (dialog) => ({
    ...dialog,
    text: dialog.text.slice(0, Math.max(0, dialog.at - 1)) + dialog.text.slice(dialog.at),
    at: Math.max(0, dialog.at - 1),
  }),
  waits: true,
  // What is half written is put aside, and goes on with the same key.
  esc: (state, dialog) => ({ ...state, dialog: null, message: null, draft: dialog }),
  key: (state, dialog, key) => {
    const move = moves[key];
    if (move !== undefined)
      return only({ ...state, dialog: { ...dialog, at: move(dialog.text, dialog.at) } });
    if (key !== 'enter') return null;
    const isEnd = dialog.at === dialog.text.length && /\n\s*$/.test(dialog.text);
    if (isEnd) return save(state, dialog);
    return only({ ...state, dialog: nextLine(dialog) ?? write.type?.(dialog, '\n') ?? dialog });
  },
};

/** An item has its lines already: Enter goes to the end of the next one. Null where a line is begun instead. */
function nextLine(dialog: Write): Write | null {
  const end = dialog.text.indexOf('\n', dialog.at);
  if (dialog.what !== 'item' || end === -1) return null;
  const next = dialog.text.indexOf('\n', end + 1);
  return { ...dialog, at: next === -1 ? dialog.text.length : next };
}

function save(state: AppState, dialog: Write) {
  const { spec, item, problems } = checked(state.books, dialog);
  const [problem] = problems;
  if (problem !== undefined)
    return refused(state, `${problem.line === undefined ? '' : `Line ${problem.line}: `}${problem.message}`);
  const intent: Intent = (books) => {
    if (item !== null) return intendItem(books, item);
    return spec === null ? done([]) : writtenAndPoured(books, spec, dialog);
  };
  return asks({ ...state, draft: null }, intent);
}

/** From Pour it is poured in the same breath: what is on the screen is on disk, both or neither. */
function writtenAndPoured(books: Books, spec: Spec, { pours }: Write): ReturnType<Intent> {
  const written = intendSpec(books, spec);
  if (!written.ok || pours === null || !isOpen(books.shift)) return written;
  const poured = intendPour(books, { spec, count: pours, as: 'sale', by: null, changes: [] });
  return poured.ok ? done([...written.value, ...poured.value]) : (poured as Result<never>);
}
