// The table of questions: one record a kind. A new one is an entry here and its data in screens/dialog.ts.
import type { DialogKind, DialogOf } from '../../screens/dialog.ts';
import type { Line } from '../../screens/parts/line.ts';
import type { Size } from '../../screens/room.ts';
import type { Key } from '../keys.ts';
import type { AppState } from '../state.ts';
import { resized } from './card/resized.ts';
import { sheet } from './card/sheet.ts';
import { write } from './card/write.ts';
import { clock, longShift } from './clock.ts';
import { file, unsaved } from './file.ts';
import { help } from './help.ts';
import { nights } from './nights.ts';
import { out } from './out.ts';
import type { Answer, Question } from './question.ts';
import { look, many, note, sure } from './read.ts';
import { seal } from './seal.ts';
import { amount, stock } from './stock.ts';
import { arrival, discard, making, order } from './tomorrow.ts';
import { who } from './who.ts';
import { words } from './words.ts';

const questions: { readonly [K in DialogKind]: Question<K> } = {
  help,
  who,
  stock,
  amount,
  seal,
  note,
  sure,
  words,
  look,
  file,
  unsaved,
  clock,
  many,
  nights,
  out,
  write,
  sheet,
  resized,
  making,
  discard,
  order,
  arrival,
  'long-shift': longShift,
};

/** The question of a dialog: its kind and its data belong together, which the compiler sees only one kind at a time. */
const questionOf = <K extends DialogKind>(dialog: DialogOf<K>): Question<K> => {
  const { kind }: { readonly kind: K } = dialog;
  return questions[kind];
};

export const askLines = <K extends DialogKind>(
  state: AppState,
  dialog: DialogOf<K>,
  size: Size,
): readonly Line[] => questionOf(dialog).ask(state, dialog, size);

export function dialogType<K extends DialogKind>(
  state: AppState,
  dialog: DialogOf<K>,
  text: string,
): AppState {
  const { type } = questionOf(dialog);
  return type === null ? state : { ...state, dialog: type(dialog, text) };
}

export function dialogErase<K extends DialogKind>(state: AppState, dialog: DialogOf<K>): AppState {
  const { erase } = questionOf(dialog);
  return erase === null ? state : { ...state, dialog: erase(dialog) };
}

/** What a key does in the open question; null when it is only text. */
export const dialogKey = <K extends DialogKind>(
  state: AppState,
  dialog: DialogOf<K>,
  key: Key,
): Answer | null => questionOf(dialog).key(state, dialog, key);

/** A question that waits closes when what it asked for is on disk. */
export const answered = (state: AppState): AppState =>
  state.dialog !== null && questionOf(state.dialog).waits === true ? { ...state, dialog: null } : state;

/** Esc closes a question; what it was about may be put aside first. */
export function escaped<K extends DialogKind>(state: AppState, dialog: DialogOf<K>): AppState {
  const esc = questionOf(dialog).esc;
  return esc === undefined ? { ...state, dialog: null, message: null } : esc(state, dialog);
}

export const hasField = (dialog: DialogOf<DialogKind>): boolean => questionOf(dialog).erase !== null;

export const isRead = (dialog: DialogOf<DialogKind>): boolean => questionOf(dialog).isRead === true;
