// What is read at the bench: the card of a making, its inputs scaled and in the order of work; the label that goes on the bottle.
import { displayAmount, shownIn } from '../catalogue/display.ts';
import type { Item } from '../catalogue/item.ts';
import { dayOrHour } from '../catalogue/keeping.ts';
import type { PrepCard } from '../catalogue/spec.ts';
import { measureName, measureText } from '../drink/measure-text.ts';
import { specLines } from '../drink/measures.ts';
import { type Books, personName } from '../ledger/books.ts';
import type { Lot } from '../ledger/stock/lot.ts';
import { clockText, dateText, wallTime } from '../value/clock-date.ts';

/** Inputs `times` over, then each step of the method on a line. */
export function benchLines(books: Books, card: PrepCard, times: number): string[] {
  const item = books.items.get(card.makes.item);
  const lines = specLines(card, books);
  if (item === undefined || !lines.ok) return [];
  const yields = displayAmount(card.makes.amount * times, shownIn(item), books.house);
  const steps = card.method
    .split(';')
    .map((step) => step.trim())
    .filter((step) => step !== '');
  return [
    `${card.name}${times > 1 ? ` × ${times}` : ''}: makes ${yields}`,
    ...lines.value.map(
      (line) =>
        `  ${measureText(line, books, books.house.units, times).padEnd(10)} ${measureName(line, books)}`,
    ),
    ...steps.map((step, at) => `  ${at + 1}. ${step}`),
  ];
}

export type Label = {
  readonly name: string;
  readonly made: string;
  readonly by: string;
  /** Empty where it has no date. */
  readonly discard: string;
  readonly contains: string;
};

/** The label of a lot: name, when and by whom it was made, discard before, allergens. */
export function labelOf(books: Books, lot: Lot, item: Item): Label {
  const { house } = books;
  const { date } = wallTime(lot.madeAt, house.zone);
  return {
    name: item.name,
    made: `${lot.isMade ? 'made' : 'came'} ${dateText(date)} ${clockText(lot.madeAt, house.zone)}`,
    by: personName(books, lot.by) ?? '',
    discard: lot.discardAt === null ? '' : `use by ${dayOrHour(lot.discardAt, house)}`,
    contains: item.allergens.length === 0 ? 'allergens: ask' : `contains ${item.allergens.join(', ')}`,
  };
}

/** The same as lines of text. */
export const labelLines = ({ name, made, by, discard, contains }: Label): string[] =>
  [name, by === '' ? made : `${made}, ${by}`, discard, contains].filter((text) => text !== '');
