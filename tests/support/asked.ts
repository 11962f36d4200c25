// Questions in front of a room, by hand: the books they are asked of, and what they answer.
import { askLines, dialogErase, dialogKey, dialogType } from '../../src/app/question/table.ts';
import { type AppState, startState } from '../../src/app/state.ts';
import type { Books } from '../../src/domain/ledger/books.ts';
import type { EventDraft } from '../../src/domain/ledger/event.ts';
import type { Dialog } from '../../src/screens/dialog.ts';
import { plainText } from '../../src/screens/parts/line.ts';
import { anItem, aPiece, aSpec, eventIdOf, itemIdOf, specIdOf } from './shelf.ts';
import { counts, joins, opens, type Step, seals, stocks, writes } from './steps.ts';
import { booksAfter } from './told.ts';

const now = '2026-11-20T20:00:00.000Z';
const shelf: Step[] = [
  ...stocks(
    anItem('gin', { name: 'Dry gin' }),
    anItem('rye', { name: 'Straight rye' }),
    aPiece('egg', { name: 'Egg' }),
  ),
  ...writes(
    aSpec('quay', ['50 ml gin'], { name: 'Quay' }),
    aSpec('jetty', ['50 ml rye'], { name: 'Jetty' }),
    aSpec('mole-end', ['70 ml gin'], { name: 'Mole End' }),
  ),
  joins('Ines'),
  joins('Tom'),
  counts('gin', 1400),
  counts('rye', 700, { place: 'cellar' }),
];
export const closed = booksAfter(shelf);
export const open = booksAfter(shelf, opens('2026-11-20', 'tom'), counts('gin', 1300));
export const sealed = booksAfter(shelf, opens('2026-11-20', 'tom'), counts('gin', 1300), seals());

const stateOf = (dialog: Dialog, books: Books = open): AppState => ({
  ...startState(books, now, { columns: 80, rows: 24 }),
  dialog,
});
export const asked = (dialog: Dialog, books = open, columns = 80): string[] =>
  askLines(stateOf(dialog, books), dialog, { columns, rows: 22 }).map((line) => plainText(line).trimEnd());
export const typed = (dialog: Dialog, text: string) => dialogType(stateOf(dialog), dialog, text).dialog;
export const erased = (dialog: Dialog) => dialogErase(stateOf(dialog), dialog).dialog;
export const answer = (dialog: Dialog, key: string, books = open) =>
  dialogKey(stateOf(dialog, books), dialog, key);
export const after = (dialog: Dialog, key: string, books = open) => answer(dialog, key, books)?.state.dialog;
/** What an answer wants recorded, or why it can't be. */
export function recorded(dialog: Dialog, key: string, books = open): readonly EventDraft[] | string {
  const [effect] = answer(dialog, key, books)?.effects ?? [];
  if (effect?.type !== 'record') return 'nothing';
  const result = effect.intent(books, now);
  return result.ok ? result.value : (result.problems[0]?.message ?? '');
}

export const help: Dialog = { kind: 'help', filter: '', cursor: 0 };
export const who = (why: 'open-shift' | 'hand-over', cursor = 0): Dialog => ({ kind: 'who', why, cursor });
export const stock = (cursor: number): Dialog => ({
  kind: 'stock',
  item: itemIdOf('gin'),
  place: 'bar',
  cursor,
  recount: { room: 'count', at: 'gin' },
});
export const amount = (
  what: 'lose' | 'receive' | 'move',
  text: string,
  choice = 0,
  item = 'gin',
): Dialog => ({
  kind: 'amount',
  what,
  item: itemIdOf(item),
  place: 'bar',
  text,
  choice,
});
export const seal = (text: string, choice = 0): Dialog => ({ kind: 'seal', text, choice });
export const note: Dialog = { kind: 'note', title: 'While you were away', lines: ['Tom poured 3 drinks'] };
export const sure: Dialog = { kind: 'sure', target: eventIdOf(7), question: 'Take back Poured 1 Quay?' };
export const words = (about: Extract<Dialog, { kind: 'words' }>['asked'], text = '', choice = 0): Dialog => ({
  kind: 'words',
  asked: about,
  text,
  choice,
});
export const out: Dialog = { kind: 'out', text: '', choice: 0 };
export const kin: Dialog = { kind: 'look', at: { what: 'kin', spec: specIdOf('quay') }, cursor: 0 };
export const without: Dialog = { kind: 'look', at: { what: 'without', item: itemIdOf('gin') }, cursor: 0 };
export const remark = { what: 'note', item: null } as const;
export const correction = { what: 'correct', item: itemIdOf('gin') } as const;
export const match = { what: 'match', drink: 'JETTI' } as const;
export const all: readonly Dialog[] = [
  help,
  who('open-shift'),
  stock(0),
  amount('lose', ''),
  seal(''),
  note,
  sure,
  words(remark),
  words(correction),
  words(match),
  out,
  kin,
  without,
];
