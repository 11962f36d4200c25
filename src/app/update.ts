// (state, action) -> state and effects. Pure: what must happen outside is handed back as data.
import { isOpen } from '../domain/ledger/books.ts';
import { booksAt } from '../domain/ledger/stock/in-date.ts';
import { noEvidence } from '../domain/report/evidence.ts';
import { pastedText } from './keys.ts';
import {
  onDropped,
  onHeld,
  onNotSaved,
  onReadOver,
  onRecorded,
  onRefused,
  onSaved,
  onTookBack,
  settled,
  shown,
} from './outcome.ts';
import { type Action, type AppState, isTooSmall, type Update, withDraft } from './state.ts';
import { stops } from './tap/held.ts';
import { onPaste, onSaid, onTimedKey } from './typing.ts';

/** A seal that was being asked for while another station or window sealed: there is nothing left to answer. */
function withoutSeal(state: AppState): AppState {
  if (state.dialog?.kind !== 'seal' || isOpen(state.books.shift)) return state;
  const text = 'This shift was sealed elsewhere meanwhile; its report stands in the Close room.';
  return { ...state, dialog: null, message: { text, tone: 'plain' } };
}

const only = (state: AppState): Update => ({ state, effects: [] });

export function update(state: AppState, action: Action): Update {
  switch (action.type) {
    case 'key':
      return onTimedKey(state, action.key, action.ms);
    case 'read-over':
      return only(onReadOver(state, action.ms));
    case 'paste':
      return isTooSmall(state.size) ? only(state) : onPaste(state, pastedText(action.text));
    case 'resize':
      return only({ ...state, size: action.size });
    case 'tick':
      return {
        state: { ...state, now: action.now, books: booksAt(state.books, action.now) },
        effects: state.usual === null ? [{ type: 'load-usual' }] : [],
      };
    case 'books': {
      const next = settled(state, { ...state, books: action.books });
      const isNewNight = state.books.shift?.id !== action.books.shift?.id;
      return {
        state: withoutSeal(isNewNight ? { ...next, evidence: noEvidence } : next),
        effects: [...shown(next), ...(isNewNight ? [{ type: 'load-usual' } as const] : [])],
      };
    }
    case 'house':
      return only({ ...state, house: action.house });
    case 'evidence':
      return only({ ...state, evidence: action.evidence });
    case 'past':
      return only({ ...state, past: action.past, pastOf: action.of });
    case 'nights':
      return only({ ...state, nights: action.nights });
    case 'usual':
      return only({ ...state, usual: action.usual });
    case 'ahead':
      return only({ ...state, ahead: action.ahead });
    case 'drift':
      return only({ ...state, drift: action.drift });
    case 'log':
      return only({ ...state, log: action.log });
    case 'recorded':
      return onRecorded(state, { ...state, books: action.books, now: action.now }, action);
    case 'took-back':
      return onTookBack({ ...state, books: action.books }, action.events);
    case 'refused':
      return only(onRefused(state, action));
    case 'held':
      return onHeld(state, action);
    case 'saved':
      return only(onSaved(state, action));
    case 'still-held':
      return only({
        ...state,
        heldFor: action.problem,
        stopped: stops(action.problem) ? action.problem : null,
      });
    case 'dropped':
      return only(onDropped(state, action));
    case 'not-saved':
      return only(onNotSaved(state, action));
    case 'ask':
      return only({
        // A doubted clock gives back the question that it came in front of.
        ...(action.dialog.kind === 'clock' ? state : withDraft(state)),
        dialog: action.dialog,
        message: null,
      });
    case 'retry':
      return { state, effects: [{ type: 'retry' }] };
    case 'said':
      return only(onSaid(state, action));
  }
}
