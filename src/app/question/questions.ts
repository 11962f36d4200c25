// Every question that stands in front of a room, as data for its picture.

import { personName } from '../../domain/ledger/books.ts';
import { closingReport } from '../../domain/report/closing.ts';
import { businessDate, dateText } from '../../domain/value/clock-date.ts';
import { formatMoney } from '../../domain/value/money.ts';
import type { Asked } from '../../screens/frame/dialog-view.ts';
import type { Dialog, StockAction } from '../../screens/room.ts';
import type { AppState } from '../state.ts';
import { amountChoices, peopleHere, SEAL_WORD, sealers, stockActions } from './dialog.ts';
import { wordsChoices, wordsQuestion } from './words.ts';

/** What an open question asks, with its field and its options. */
export function questionOf(state: AppState, dialog: Exclude<Dialog, { kind: 'help' | 'look' }>): Asked {
  const { books } = state;
  const choose = '↑↓ choose, Enter answers, Esc goes back.';
  switch (dialog.kind) {
    case 'who': {
      const people = peopleHere(books).map(({ name }, at) => (at < 9 ? `${at + 1} ${name}` : `  ${name}`));
      const date = dateText(businessDate(state.now, books.house.zone, books.house.cutOffHour));
      const title =
        dialog.why === 'open-shift'
          ? `Open the shift of ${date}. Who is pouring?`
          : `Who is pouring now? So far ${personName(books, books.shift?.pouring ?? null) ?? 'nobody'}.`;
      return {
        title,
        options: people.length === 0 ? ['nobody named'] : people,
        cursor: dialog.cursor,
        foot: 'Press a number, or ↑↓ and Enter. Esc goes back.',
      };
    }
    case 'stock':
      return {
        title: `${itemName(state, dialog.item)} at ${dialog.place}`,
        options: stockActions.map(({ label }) => label),
        cursor: dialog.cursor,
        foot: choose,
      };
    case 'amount': {
      const asks = {
        open: '',
        lose: 'How much was lost, and why?',
        receive: 'How many came in?',
        move: 'How many go, and where to?',
        count: '',
        without: '',
      }[dialog.what];
      const hint = hintOf(dialog.what, books.items.get(dialog.item as never)?.costMinor ?? null, state);
      return {
        title: `${itemName(state, dialog.item)}: ${asks}`,
        field: { text: dialog.text, hint },
        options: amountChoices(books, dialog),
        cursor: dialog.choice,
        foot: `Type the amount. ${choose}`,
      };
    }
    case 'seal':
      return {
        title: `Seal this shift for good? ${notCounted(state)}Later corrections are new events and say so. Type ${SEAL_WORD} and press Enter.`,
        field: { text: dialog.text, hint: '' },
        options: sealers(books).map(({ name }) => `sealed by ${name}`),
        cursor: dialog.choice,
        foot: 'Esc keeps it open, ↑↓ choose who seals.',
      };
    case 'note':
      return {
        title: dialog.title,
        options: dialog.lines,
        cursor: -1,
        foot: 'Enter or Esc goes on, or just type.',
      };
    case 'words': {
      const { title, hint, foot } = wordsQuestion(books, dialog);
      const options = wordsChoices(books, dialog);
      return { title, field: { text: dialog.text, hint }, options, cursor: dialog.choice, foot };
    }
    case 'sure':
      return { title: dialog.question, options: [], cursor: 0, foot: 'y takes it back, n or Esc leaves it.' };
  }
}

/** What a seal would leave uncounted. */
function notCounted({ books }: AppState): string {
  const { counted, notCounted: left } = closingReport(books)?.totals ?? { counted: 0, notCounted: 0 };
  return left === 0 ? '' : `${left} of ${counted + left} items are not counted. `;
}

const itemName = (state: AppState, id: string): string => state.books.items.get(id as never)?.name ?? id;

function hintOf(what: StockAction, costMinor: number | null, { books }: AppState): string {
  if (what === 'lose') return '50 ml, or 2 for pieces';
  if (what === 'move') return '1, or 1 to cellar for a new place';
  const { currency } = books.house;
  return `containers, as 6, or 6 at 18.90 with the cost of one${costMinor === null ? '' : `; last ${formatMoney(costMinor, currency)}`}`;
}
