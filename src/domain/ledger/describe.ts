// What an event says to a person: one line, in the past.

import { displayAmount, shownIn } from '../catalogue/display.ts';
import { dayOrHour } from '../catalogue/keeping.ts';
import type { OutThing } from '../catalogue/out-mark.ts';
import { clockText, dateText, epochOf } from '../value/clock-date.ts';
import type { EventId, ItemId, PersonId, SupplierId } from '../value/ids.ts';
import { formatMoney } from '../value/money.ts';
import { type Books, personName } from './books.ts';
import { type Event, type EventOf, isOfNight, type LoggedEvent } from './event.ts';

const itemName = (books: Books, id: ItemId): string => books.items.get(id)?.name ?? id;
const supplierName = (books: Books, id: SupplierId | null): string =>
  (id === null ? undefined : books.suppliers.get(id)?.name) ?? id ?? 'nobody named';
const person = (books: Books, id: PersonId | null): string => personName(books, id) ?? 'nobody';

function amountText(books: Books, id: ItemId, amount: number): string {
  const item = books.items.get(id);
  return displayAmount(amount, item === undefined ? 'ml' : shownIn(item), books.house);
}

/** So long ago is a late entry: then the answer says when it was, and in whose hand. */
const LATE_MS = 60_000;

/** What an event says just after it was recorded: "Poured 2 Lantern Sour, at 22:40 by Ines" where that was earlier. */
export function describeRecorded(event: Event, books: Books, now: string): string {
  const said = describeEvent(event, books);
  if (!isOfNight(event) || epochOf(now) - epochOf(event.at) <= LATE_MS) return said;
  const by = personName(books, event.by);
  return `${said}, at ${clockText(event.at, books.house.zone)}${by === null ? '' : ` by ${by}`}`;
}

/** "Poured 2 Lantern Sour, comp": for the log, for messages, for what a command prints. */
export function describeEvent(
  event: Event,
  books: Books,
  /** What a take-back names, where it is at hand. */
  targetOf: (id: EventId) => Event | null = () => null,
): string {
  if (event.kind === 'event-taken-back') {
    const target = targetOf(event.target);
    return target === null ? 'Took back an event' : `Took back: ${describeEvent(target, books)}`;
  }
  switch (event.kind) {
    case 'drink-poured':
      return `Poured ${event.count} ${event.name}${purpose(event.as)}${changes(event.changes)}`;
    case 'measure-poured':
      return `Poured ${straight(event, books)}${purpose(event.as)}`;
    case 'stock-lost':
      return `${event.lot === undefined ? 'Lost' : 'Threw away'} ${amountText(books, event.item, event.amount)} ${itemName(books, event.item)} (${event.why})`;
    case 'prep-made':
      return `Made ${amountText(books, event.item, event.amount)} ${itemName(books, event.item)} (${event.name})${untilText(event, books)}`;
    case 'delivery-received':
      return `Received ${event.containers} × ${itemName(books, event.item)} at ${event.place}${cost(event, books)}`;
    case 'stock-moved':
      return `Moved ${event.containers} × ${itemName(books, event.item)} from ${event.from} to ${event.to}`;
    case 'bottle-opened':
      return `Opened ${itemName(books, event.item)} at ${event.place}`;
    case 'stock-counted':
      return `Counted ${itemName(books, event.item)} at ${event.place}${readingText(event, books)}${event.again ? ', second look' : ''}${event.note === undefined ? '' : ` (${event.note})`}`;
    default:
      return describeHouse(event, books);
  }
}

/** ", in place of what upstairs wrote at 22:41": two changes of one thing by two stations, of which the later holds. */
export function replacedText({ replaces }: Pick<LoggedEvent, 'replaces'>, { house }: Books): string {
  if (replaces === undefined) return '';
  return `, in place of what ${replaces.station} wrote at ${clockText(replaces.at, house.zone)}`;
}

function describeHouse(event: Event, books: Books): string {
  switch (event.kind) {
    case 'house-set':
      return `Set ${event.key} to ${event.value}`;
    case 'item-written':
      return `${event.item.retired === true ? 'Retired' : 'Wrote'} item ${event.item.name}`;
    case 'spec-written':
      return `${event.spec.retired === true ? 'Retired' : 'Wrote'} spec ${event.spec.name}`;
    case 'person-added':
      return `${event.name} works here`;
    case 'person-left':
      return `${person(books, event.person)} no longer works here`;
    case 'shift-opened':
      return `Opened the shift of ${dateText(event.date)}`;
    case 'shift-sealed':
      return 'Sealed the shift';
    case 'handed-over':
      return `${person(books, event.to)} pouring`;
    case 'note-written':
      return `Noted${event.item === null ? '' : ` on ${itemName(books, event.item)}`}: ${event.text}`;
    case 'report-corrected':
      return `Corrected a sealed report: ${itemName(books, event.item)}, ${event.what} ${event.amount > 0 ? '+' : '−'}${amountText(books, event.item, Math.abs(event.amount))} (${event.why})`;
    case 'drink-sold':
      return `The till sold ${event.count} ${event.drink}`;
    case 'till-name-matched':
      return `The till's "${event.drink}" is ${tillText(event, books)}`;
    case 'order-placed':
      return `Ordered ${event.lines.length} ${event.lines.length === 1 ? 'thing' : 'things'} of ${supplierName(books, event.supplier)} for ${dateText(event.deliveryAt)}`;
    case 'order-received':
      return 'Received an order';
    case 'night-expected':
      return `Expected ${dateText(event.date)} ${event.date.slice(0, 4)} at ${event.factor} of the usual${event.text === '' ? '' : ` (${event.text})`}`;
    case 'place-renamed':
      return `Renamed the place ${event.from} to ${event.to}`;
    case 'supplier-written':
      return `Wrote supplier ${event.supplier.name}`;
    case 'sheet-matched':
      return `Kept how a spreadsheet headed ${event.headings.replaceAll('|', ', ').slice(0, 60)} is read`;
    case 'readings-compared':
      return `Compared ${itemName(books, event.item)}: ${amountText(books, event.item, event.eye)} by eye, ${amountText(books, event.item, event.weighed)} on the scale`;
    case 'marked-out':
      return `Out: ${outName(event, books)}, ${event.why}${event.until === null ? '' : `, until ${clockText(event.until, books.house.zone)}`}`;
    case 'marked-back':
      return `Back: ${outName(event, books)}`;
    case 'mise-ticked':
      return `${event.done ? 'Ready' : 'Not ready'}: ${event.line}`;
    case 'mise-edited':
      return `${event.kept ? 'Added to' : 'Left out of'} the mise en place: ${event.line}`;
    default:
      return 'Took back an event';
  }
}

/** What is out, by its name. */
export function outName({ item, spec, word }: OutThing, books: Books): string {
  if (item !== null) return itemName(books, item);
  return spec === null ? (word ?? '') : (books.specs.get(spec)?.name ?? spec);
}

const purpose = (as: string): string => (as === 'sale' ? '' : `, ${as}`);
const changes = (list: readonly string[]): string => (list.length === 0 ? '' : `, with ${list.join(', ')}`);

function straight(event: EventOf<'measure-poured'>, books: Books): string {
  const [draw] = event.draws;
  if (draw === undefined) return 'a straight measure';
  const times = event.count > 1 ? `${event.count} × ` : '';
  return `${times}${amountText(books, draw.item, draw.amount / event.count)} ${itemName(books, draw.item)}`;
}

function cost(event: EventOf<'delivery-received'>, books: Books): string {
  if (event.costMinor === null) return '';
  return `, ${formatMoney(event.costMinor, books.house.currency)} each`;
}

/** ": 2.7 = 1,890 ml"; the amount alone when the reading says it already. */
function readingText(event: EventOf<'stock-counted'>, books: Books): string {
  const amount = amountText(books, event.item, event.amount);
  return event.reading === amount ? `: ${amount}` : `: ${event.reading} = ${amount}`;
}

/** ", good until Fri 27 Nov", or with its hour where that is no end of a day. */
function untilText({ discardAt }: EventOf<'prep-made'>, { house }: Books): string {
  return discardAt === null ? '' : `, good until ${dayOrHour(discardAt, house)}`;
}

function tillText({ spec, straight }: EventOf<'till-name-matched'>, books: Books): string {
  if (straight !== undefined)
    return `${amountText(books, straight.item, straight.amount)} ${itemName(books, straight.item)}, straight`;
  return spec === null ? 'nothing we pour' : (books.specs.get(spec)?.name ?? spec);
}
