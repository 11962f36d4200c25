// Questions that stand in front of a room, as data; app/question/ says what each asks and what its keys do.

import type { OrderLine } from '../domain/order/order.ts';
import type { Columns, Sheet } from '../domain/sheet/sheet.ts';
import type { EventId, ItemId, SpecId, SupplierId } from '../domain/value/ids.ts';
import type { Address } from './address.ts';
import type { Effect } from './effect.ts';

type Dialogs = {
  readonly help: { readonly filter: string; readonly cursor: number };
  readonly who: { readonly why: 'open-shift' | 'hand-over'; readonly cursor: number };
  readonly stock: {
    readonly item: ItemId;
    readonly place: string;
    readonly cursor: number;
    /** Where it is counted. */
    readonly recount: Address;
  };
  readonly amount: {
    readonly what: MovedBy;
    readonly item: ItemId;
    readonly place: string;
    readonly text: string;
    readonly choice: number;
  };
  readonly seal: { readonly text: string; readonly choice: number };
  /** `top`: the first line that is shown of one that is longer than the window. */
  readonly note: { readonly title: string; readonly lines: readonly string[]; readonly top?: number };
  readonly sure: { readonly target: EventId; readonly question: string };
  readonly words: { readonly asked: Asked; readonly text: string; readonly choice: number };
  /** The clock is doubted: what was to be recorded waits for the answer. */
  readonly clock: {
    readonly text: string;
    readonly cursor: number;
    readonly wish: Extract<Effect, { type: 'record' }>;
    /** The question that asked for it, which comes back with its lines. */
    readonly behind: Dialog | null;
  };
  /** The same pour many times within a moment: all but the first. */
  readonly many: { readonly text: string; readonly ids: readonly EventId[] };
  /** A shift that was left open. */
  readonly 'long-shift': { readonly text: string; readonly cursor: number };
  /** On leaving with taps that are not saved. */
  readonly unsaved: { readonly cursor: number };
  /** Where everything the rooms hold is written when the books can't be. */
  readonly file: { readonly text: string };
  /** A card that is being written, and where the next character goes. */
  readonly write: {
    readonly what: 'spec' | 'item' | 'person' | 'supplier' | 'place' | 'setting';
    readonly text: string;
    readonly at: number;
    /** Where a way up or down began; null while none is gone. */
    readonly column: number | null;
    /** The id of what is written anew; null when it is new. */
    readonly was: string | null;
    /** How many are poured when it is written; null when none are. */
    readonly pours: number | null;
  };
  /** A spreadsheet to be taken in: its columns are matched, then what it would write is shown. */
  readonly sheet: {
    readonly file: string;
    readonly sheet: Sheet;
    /** What somebody said of its columns; what is not in here is guessed. */
    readonly given: Columns;
    readonly page: 'columns' | 'rows';
    readonly cursor: number;
  };
  /** Of another size from now on: what do those that stand sealed hold? */
  readonly resized: {
    readonly item: ItemId;
    readonly was: string;
    readonly many: number;
    readonly recount: Address;
    readonly cursor: number;
  };
  /** A prep card that is made: so often, or what came out. */
  readonly making: { readonly card: SpecId; readonly times: number; readonly text: string };
  /** A lot that is thrown away. */
  readonly discard: {
    /** A lot, or what stands open at a place. */
    readonly what: EventId | { readonly item: ItemId; readonly place: string };
    readonly cursor: number;
  };
  /** An order as it is sent. */
  readonly order: {
    readonly supplier: SupplierId | null;
    readonly deliveryAt: string;
    readonly lines: readonly OrderLine[];
  };
  /** An order that came: what of it came otherwise. */
  readonly arrival: { readonly order: EventId; readonly text: string };
  /** What is out, and saying that something is, or is back. */
  readonly out: { readonly text: string; readonly choice: number };
  /** Which night or stretch the Close room shows. */
  readonly nights: { readonly text: string; readonly choice: number };
  /** Something to read that follows from the books and keeps itself up to date. */
  readonly look: { readonly at: Looked; readonly cursor: number };
};

export type DialogKind = keyof Dialogs;
export type DialogOf<K extends DialogKind> = { [P in K]: { readonly kind: P } & Dialogs[P] }[K];
export type Dialog = DialogOf<DialogKind>;

/** What is answered in words: a note on the shift or on one item of it, a correction, what a name of the till means. */
export type Asked =
  | { readonly what: 'note'; readonly item: ItemId | null; readonly shift?: EventId }
  | { readonly what: 'correct'; readonly item: ItemId; readonly shift?: EventId }
  | { readonly what: 'match'; readonly drink: string };

export type Looked =
  | { readonly what: 'kin'; readonly spec: SpecId }
  | { readonly what: 'without'; readonly item: ItemId };

export type MovedBy = 'lose' | 'receive' | 'move';
export type StockAction = MovedBy | 'open' | 'count' | 'without';
