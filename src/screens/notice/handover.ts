// What the next person is told at a handover: what is low, what stands open, what was poured so far.
import { type Books, personName } from '../../domain/ledger/books.ts';
import { levelsOf } from '../../domain/service/levels.ts';
import { markedOut, outText } from '../../domain/service/out-by-hand.ts';
import type { Usual } from '../../domain/service/usual.ts';
import type { Dialog } from '../dialog.ts';
import { amountText, shortName } from '../format.ts';
import { runningLow } from './running-low.ts';

const MOST_OPEN = 12;

export function handoverNote(books: Books, now: string, usual: Usual | null): Dialog {
  const drinks = [...(books.shift?.drinks.values() ?? [])].reduce((sum, tally) => sum + tally.count, 0);
  const low = runningLow(books, now, usual);
  const open = levelsOf(books)
    .filter(
      ({ item, open: amounts }) =>
        item.unit === 'ml' && amounts.some((amount) => amount > 0 && amount < item.size),
    )
    .sort((a, b) => (a.open[0] ?? 0) / a.item.size - (b.open[0] ?? 0) / b.item.size)
    .slice(0, MOST_OPEN)
    .map(
      ({ item, open: amounts, place }) =>
        `open  ${shortName(item)}, ${amountText(amounts[0] ?? 0, 'ml', books)} at ${place}`,
    );
  const who = personName(books, books.shift?.pouring ?? null) ?? 'Nobody';
  return {
    kind: 'note',
    title: `${who} is pouring now. So far ${drinks} drink${drinks === 1 ? '' : 's'} in this shift.`,
    lines: [
      ...markedOut(books, now).map((mark) => `86    ${outText(mark, books)}`),
      low === '' ? 'low   nothing' : `low   ${low}`,
      ...open,
    ],
  };
}
