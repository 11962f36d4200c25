// What is read at the bench: the card of a making, its inputs scaled and in the order of work; the label that goes on the bottle.
import type { Catalogue } from '../catalogue/catalogue.ts';
import { displayAmount, shownIn } from '../catalogue/display.ts';
import type { Item } from '../catalogue/item.ts';
import { dayOrHour, keepsText } from '../catalogue/keeping.ts';
import type { PrepCard } from '../catalogue/spec.ts';
import { measureName, measureText } from '../drink/measure-text.ts';
import { specLines } from '../drink/measures.ts';
import { type Books, personName } from '../ledger/books.ts';
import type { Lot } from '../ledger/stock/lot.ts';
import { businessDate, clockText, dateText } from '../value/clock-date.ts';
import { formatMoney } from '../value/money.ts';
import { madeNow } from './made.ts';

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

/** What a card makes, how long that keeps, and what it is: for whoever reads or writes the card. */
export function madeLines(books: Catalogue, card: PrepCard): string[] {
  const item = books.items.get(card.makes.item);
  const made = madeNow(books, card);
  if (item === undefined || made === null) return [];
  const keeps = card.keeps ?? item.keeps;
  const per = item.unit === 'g' ? 'kg' : 'l';
  const grams = (value: number | null, what: string): string =>
    value === null ? `${what} not known` : `${value} g/${per} ${what}`;
  const { currency } = books.house;
  return [
    `makes ${displayAmount(card.makes.amount, shownIn(item), books.house)} ${item.name}${keeps === undefined ? '' : `, keeps ${keepsText(keeps)}`}`,
    [
      made.abvPercent === null || made.abvPercent === 0 ? '' : `${made.abvPercent.toFixed(1)} %`,
      item.unit === 'each' ? '' : grams(made.sugarGramsPerLitre, 'sugar'),
      item.unit === 'each' ? '' : grams(made.acidGramsPerLitre, 'acid'),
    ]
      .filter((part) => part !== '')
      .join(', '),
    made.costMinor === null
      ? 'cost not known'
      : `${item.sizeText} of it costs ${formatMoney(made.costMinor, currency)} ${currency}`,
  ].filter((text) => text !== '');
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
  // Its day is the business day, as in the date it is good until; the hour stands where that has one.
  const day = dateText(businessDate(lot.madeAt, house.zone, house.cutOffHour));
  const until = lot.discardAt === null ? '' : dayOrHour(lot.discardAt, house);
  const hour = until.includes(':') ? ` ${clockText(lot.madeAt, house.zone)}` : '';
  return {
    name: item.name,
    made: `${lot.isMade ? 'made' : 'came'} ${day}${hour}`,
    by: personName(books, lot.by) ?? '',
    discard: until === '' ? '' : `use by ${until}`,
    contains: item.allergens.length === 0 ? 'allergens: ask' : `contains ${item.allergens.join(', ')}`,
  };
}

/** The same as lines of text. */
export const labelLines = ({ name, made, by, discard, contains }: Label): string[] =>
  [name, by === '' ? made : `${made}, ${by}`, discard, contains].filter((text) => text !== '');
