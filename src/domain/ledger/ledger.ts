// The fold: events in, books out. Pure; the only place that says what an event does.

import { houseOf } from '../catalogue/house.ts';
import { outKey } from '../catalogue/out-mark.ts';
import type { EventId } from '../value/ids.ts';
import { foldText } from '../value/text.ts';
import { type Books, isOfShift, isOpen, type ShiftBooks } from './books.ts';
import { type Event, type EventOf, isOfNight } from './event.ts';
import { addPair, noPairs } from './eye-record.ts';
import { booksOf, type Folding, foldingOf, own } from './folding.ts';
import { applyStock, keepSealed, recut, settleKnown } from './stock/ledger-stock.ts';
import { renamePlace } from './stock/rename-place.ts';
import { forgetCosts, notePrice } from './stock/worth.ts';
import { newShift } from './tally.ts';

/** What a night's habit counts for after the next night: half after about a week. */
const HABIT_FADE = 0.9;

/** Folds events that are in order and count, as the store hands them out. */
export function foldInOrder(
  start: Books,
  events: Iterable<Event>,
  onFolded?: (event: Event, books: () => Books) => void,
): Books {
  const folding = foldingOf(start);
  for (const event of events) {
    applyEvent(folding, event);
    if (isOfNight(event)) folding.lastOfNight = event.at;
    folding.last = { at: event.at, station: event.station, seq: event.seq };
    onFolded?.(event, () => booksOf(folding));
  }
  return booksOf(folding);
}

function applyEvent(folding: Folding, event: Event): void {
  switch (event.kind) {
    case 'house-set':
      folding.settings = own(folding, folding.settings).set(event.key, event.value);
      folding.house = houseOf(folding.settings);
      return;
    case 'item-written':
      writeItem(folding, event);
      return;
    case 'spec-written':
      folding.specs = own(folding, folding.specs).set(event.spec.id, event.spec);
      return;
    case 'order-placed':
      folding.orders = own(folding, folding.orders).set(event.id, event);
      return;
    case 'order-received': {
      const open = own(folding, folding.orders);
      open.delete(event.order);
      folding.orders = open;
      return;
    }
    case 'night-expected':
      folding.expected = own(folding, folding.expected).set(event.date, {
        factor: event.factor,
        text: event.text,
      });
      return;
    case 'place-renamed':
      renamePlace(folding, event);
      return;
    case 'supplier-written':
      folding.suppliers = own(folding, folding.suppliers).set(event.supplier.id, event.supplier);
      return;
    case 'person-added':
      folding.people = own(folding, folding.people).set(event.person, {
        id: event.person,
        name: event.name,
        here: true,
      });
      return;
    case 'person-left': {
      const person = folding.people.get(event.person);
      if (person !== undefined)
        folding.people = own(folding, folding.people).set(event.person, { ...person, here: false });
      return;
    }
    case 'shift-opened':
      // Opened apart: the earlier one is the shift, and this one's events belong to it.
      if (isOpen(folding.shift) && folding.shift.station !== event.station) {
        joinShift(folding, folding.shift, event);
        return;
      }
      for (const [spec, weight] of folding.habit)
        folding.habit = own(folding, folding.habit).set(spec, weight * HABIT_FADE);
      folding.shift = {
        ...newShift(event),
        periods: folding.between,
        lostMillis: folding.lostBetween,
        prepped: folding.preppedBetween,
      };
      if (folding.preppedBetween.size > 0) folding.preppedBetween = new Map();
      folding.between = [];
      folding.lostBetween = 0;
      return;
    case 'shift-sealed':
      if (isSecondSeal(folding, event)) return;
      if (folding.shift !== null && closed(folding.shift, event) !== null)
        folding.shift = sealedBy(folding.shift, event);
      folding.sealedUntil = event.at;
      forgetCosts(folding);
      if (folding.miseTicks.size > 0) folding.miseTicks = new Map();
      if (folding.out.size > 0) folding.out = new Map();
      return;
    case 'handed-over':
      if (isOpen(folding.shift))
        folding.shift = {
          ...folding.shift,
          pouring: event.to,
          hands: [...folding.shift.hands, { at: event.at, by: event.to, station: event.station }],
        };
      return;
    case 'till-name-matched':
      folding.tillNames = own(folding, folding.tillNames).set(
        foldText(event.drink),
        event.straight ?? event.spec,
      );
      return;
    case 'sheet-matched':
      folding.sheets = own(folding, folding.sheets).set(
        event.headings,
        new Map(event.columns.map(({ ours, at }) => [ours, at])),
      );
      return;
    case 'readings-compared': {
      const who = event.by ?? '';
      folding.eyes = own(folding, folding.eyes).set(who, addPair(folding.eyes.get(who) ?? noPairs, event));
      return;
    }
    case 'mise-edited':
      folding.miseEdits = own(folding, folding.miseEdits).set(
        foldText(event.line),
        event.kept ? event.line : null,
      );
      return;
    case 'mise-ticked':
      tick(folding, event);
      return;
    case 'marked-out': {
      const { item, spec, word, why, until, by, at } = event;
      folding.out = own(folding, folding.out).set(outKey(event), { item, spec, word, why, until, by, at });
      return;
    }
    case 'marked-back': {
      const out = own(folding, folding.out);
      out.delete(outKey(event));
      folding.out = out;
      return;
    }
    default:
      applyStock(folding, event);
  }
}

/** Another station's opening of the same night: its hand pours there. */
function joinShift(folding: Folding, shift: ShiftBooks, event: EventOf<'shift-opened'>): void {
  const hand = { at: event.at, by: event.by, station: event.station };
  folding.shift = { ...shift, also: [...shift.also, event.id], hands: [...shift.hands, hand] };
}

/** Made apart from the seal that closed this night: nothing more is closed by it, it only stands in the log. */
const isSecondSeal = ({ shift }: Folding, event: EventOf<'shift-sealed'>): boolean =>
  event.seen !== undefined && !(isOpen(shift) && closed(shift, event) !== null);

/** The opening of a shift that a seal names, whichever of its openings that is; null when it names none. */
const closed = (shift: ShiftBooks, { of, also = [] }: EventOf<'shift-sealed'>): EventId | null =>
  [of, ...also].find((named) => isOfShift(shift, named)) ?? null;

/** A sealed night bears the name that its seal gives it, whichever of its openings was the earlier one. */
function sealedBy(shift: ShiftBooks, event: EventOf<'shift-sealed'>): ShiftBooks {
  const id = closed(shift, event) ?? shift.id;
  const also = id === shift.id ? shift.also : [shift.id, ...shift.also.filter((other) => other !== id)];
  return { ...shift, id, also, sealedAt: event.at, sealedBy: event.by };
}

function tick(folding: Folding, event: EventOf<'mise-ticked'>): void {
  const ticks = own(folding, folding.miseTicks);
  if (event.done) ticks.set(foldText(event.line), event.at);
  else ticks.delete(foldText(event.line));
  folding.miseTicks = ticks;
}

function writeItem(folding: Folding, { item, at, keepsSealed }: EventOf<'item-written'>): void {
  const before = folding.items.get(item.id);
  if (before !== undefined && before.size !== item.size) {
    if (keepsSealed === true) keepSealed(folding, item.id, before.size);
    else recut(folding, item.id, before.size, item.size);
  }
  if (before === undefined) settleKnown(folding, item.id, item.size);
  folding.items = own(folding, folding.items).set(item.id, item);
  if (!folding.knownSince.has(item.id))
    folding.knownSince = own(folding, folding.knownSince).set(item.id, at);
  notePrice(folding, item, at);
}
