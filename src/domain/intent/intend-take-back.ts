// What may be taken back, and what comes back with it: one rule for what dies and for what lives again, to any depth.
import type { Item } from '../catalogue/item.ts';
import { type Books, isOpen } from '../ledger/books.ts';
import { besideKinds, type Event, type EventDraft, type EventOf } from '../ledger/event.ts';
import { itemsOf, itemsOnCard, namesOf } from '../ledger/event-names.ts';
import type { EventId, ItemId, PersonId, SpecId } from '../value/ids.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { checkCurrency, checkItemChange } from './intend-house.ts';

/** What the log knows of the event that is to be taken back, and of all that would turn with it. */
export type Traces = {
  readonly target: Event;
  readonly isTakenBack: boolean;
  /** What would no longer count, and what would count again. */
  readonly dies: readonly Event[];
  readonly lives: readonly Event[];
  readonly isAlive: (id: EventId) => boolean;
  /** Something that counts was recorded in that shift. */
  readonly isInUse: (shift: EventId) => boolean;
  /** What counts and writes the same thing (an item, a card, a person, a setting), in order. */
  readonly versions: (event: Event) => readonly Event[];
  /** Something that counts was recorded by that person, hands over to them, or says that they left. */
  readonly isNamed: (person: PersonId) => boolean;
  /** Something that counts says something of that item without moving it. */
  readonly isRemarked: (item: ItemId) => boolean;
  /** Somebody said that a card is out, or back. */
  readonly isMarked: (spec: SpecId) => boolean;
  /** Something that counts was thrown away of the lot that an event brought. */
  readonly isThrownAway: (lot: EventId) => boolean;
};

type Rule = (books: Books, traces: Traces, now: string) => Result<never> | null;

/** Takes one event back, when everything that turns with it may turn. */
export function intendTakeBack(books: Books, traces: Traces | null, now: string): Result<EventDraft[]> {
  if (traces === null)
    return refuse(
      'nothing-to-take-back',
      'There is nothing to take back of what was tapped. What was written into the book is taken back by its id: ullage log --json names it.',
      65,
      'There is nothing to take back of what was tapped here. The Log room takes back any one thing, what was written into the Book too.',
    );
  if (traces.isTakenBack)
    return refuse('taken-back', 'That was taken back before. Take back the take-back to restore it.');
  for (const rule of rules) {
    const against = rule(books, traces, now);
    if (against !== null) return against;
  }
  const open = isOpen(books.shift) ? books.shift : null;
  return done([
    {
      kind: 'event-taken-back',
      shift: open?.id ?? null,
      by: open?.pouring ?? null,
      target: traces.target.id,
    },
  ]);
}

const turned = ({ dies, lives }: Traces): readonly Event[] => [...dies, ...lives];

/**
 * What is sealed stays. But a seal that lies ahead of the clock was made by one that ran ahead: as long as nothing came after
 * it, it can be taken back and made again.
 */
const sealStays: Rule = (books, traces, now) => {
  const { sealedUntil } = books;
  const isShut = (event: Event): boolean =>
    !besideKinds.has(event.kind) && sealedUntil !== null && event.at <= sealedUntil;
  const ranAhead = (event: Event): boolean =>
    event.kind === 'shift-sealed' && event.at > now && books.shift?.id === event.of;
  return turned(traces).some((event) => isShut(event) && !ranAhead(event))
    ? refuse('sealed', 'That lies in a sealed shift and stays as it is. Record a correction as a new event.')
    : null;
};

/** What was counted since stands under the new name: the way back is another renaming. */
const placesStay: Rule = (_, traces) => {
  const [event] = ofKind(traces, 'place-renamed');
  return event === undefined
    ? null
    : refuse(
        'place-stays',
        `A place keeps the name it was given. Rename it back: ullage rename place "${event.to}" "${event.from}".`,
        65,
        `A place keeps the name it was given. Rename it back in the Book: ${event.to} to ${event.from}.`,
      );
};

/** Never two shifts open at once, never one gone that something was recorded in. */
const shiftsStand: Rule = (books, { dies, lives, isInUse }) => {
  if (lives.some(({ kind }) => kind === 'shift-opened') && isOpen(books.shift))
    return refuse(
      'shift-open',
      'That would open a second shift. Seal the open one first, or leave this one taken back.',
    );
  if (dies.some((event) => event.kind === 'shift-opened' && isInUse(event.id)))
    return refuse('shift-in-use', 'That shift has pours or counts in it. Take those back first, or seal it.');
  return null;
};

/** Never a pour whose shift is not there, nor anything of an item, a card or a person that is not. */
const rootsStand: Rule = (books, { lives, isAlive }) => {
  for (const event of lives) {
    const { specs, people, items, shifts } = namesOf(event);
    const isThere =
      specs.every((id) => books.specs.has(id)) &&
      people.every((id) => books.people.has(id)) &&
      items.every((id) => books.items.has(id)) &&
      shifts.every(isAlive);
    if (!isThere)
      return refuse(
        'no-root',
        'A card, an item, a person or a shift it names was taken back. Restore that first.',
      );
    if (besideKinds.has(event.kind)) continue;
    if (event.shift !== null && !isAlive(event.shift))
      return refuse('no-shift', 'The shift it was recorded in was taken back. Restore the shift first.');
    for (const id of itemsOf(event)) {
      const since = books.knownSince.get(id);
      if (since === undefined || since > event.at)
        return refuse('unknown-item', `The item "${id}" it names is not stocked. Restore the item first.`);
    }
  }
  return null;
};

/** Versions of the same thing that would count afterwards. */
function versionsAfter(event: Event, { dies, lives, versions }: Traces): readonly Event[] {
  const gone = new Set(dies.map(({ id }) => id));
  const again = lives.filter(({ id }) => id === event.id);
  return [...versions(event).filter(({ id }) => !gone.has(id)), ...again].sort((a, b) =>
    a.at < b.at ? -1 : 1,
  );
}

const ofKind = <K extends Event['kind']>(traces: Traces, kind: K): EventOf<K>[] =>
  turned(traces).filter((event): event is EventOf<K> => event.kind === kind);

/** Never an item gone while something names it; what it falls back to is held to the rules of writing it. */
const itemsStand: Rule = (books, traces) => {
  for (const event of ofKind(traces, 'item-written')) {
    const { id, name } = event.item;
    const after = versionsAfter(event, traces).filter((each) => each.kind === 'item-written');
    const isUsed =
      [...books.stock.values()].some((stock) => stock.item === id) ||
      [...books.specs.values()].some((spec) => itemsOnCard(spec).includes(id)) ||
      traces.isRemarked(id);
    const next: Item | undefined = after.at(-1)?.item;
    const since = after[0]?.at;
    if (isUsed && (next === undefined || since === undefined || since > (books.knownSince.get(id) ?? since)))
      return refuse(
        'item-in-use',
        `${name} is poured, counted, noted, ordered or on a card. Take those back first, or write the item anew.`,
      );
    const allowed = next === undefined ? done(null) : checkItemChange(books, next);
    if (!allowed.ok) return allowed;
  }
  return null;
};

/** Never a card gone that was poured or that a name of the till means, nor one back whose items are not. */
const specsStand: Rule = (books, traces) => {
  for (const event of ofKind(traces, 'spec-written')) {
    const { id, name } = event.spec;
    const next = versionsAfter(event, traces)
      .filter((each) => each.kind === 'spec-written')
      .at(-1);
    const isUsed =
      (books.tallies.get(id)?.count ?? 0) > 0 ||
      books.makings.has(id) ||
      traces.isMarked(id) ||
      [...books.tillNames.values()].some((spec) => spec === id);
    if (next === undefined && isUsed)
      return refuse(
        'spec-in-use',
        `${name} was poured or made, said to be out, or a name of the till means it. Take that back first, or write the card anew.`,
      );
    const missing =
      next === undefined ? undefined : itemsOnCard(next.spec).find((item) => !books.items.has(item));
    if (missing !== undefined)
      return refuse('unknown-item', `The item "${missing}" of ${name} is not stocked. Restore it first.`);
  }
  return null;
};

/** Never a lot gone of which something was thrown away, nor that back without its lot: it would be taken from other lots. */
const lotsStand: Rule = (_, { dies, lives, isAlive, isThrownAway }) => {
  const brings = ({ kind }: Event): boolean => kind === 'prep-made' || kind === 'delivery-received';
  if (dies.some((event) => brings(event) && isThrownAway(event.id)))
    return refuse('lot-in-use', 'Some of that lot was thrown away. Take that back first.');
  const isLost = (event: Event): boolean =>
    event.kind === 'stock-lost' &&
    event.lot !== undefined &&
    !isAlive(event.lot) &&
    !lives.some(({ id }) => id === event.lot);
  return lives.some(isLost)
    ? refuse('no-root', 'The lot it was thrown away of was taken back. Restore that first.')
    : null;
};

const peopleStand: Rule = (_, traces) => {
  for (const event of ofKind(traces, 'person-added')) {
    const left = versionsAfter(event, traces).some(({ kind }) => kind === 'person-added');
    if (!left && traces.isNamed(event.person))
      return refuse(
        'person-in-use',
        `Something was recorded by ${event.name}, so the name stays. Say that they left instead.`,
      );
  }
  return null;
};

const moneyStands: Rule = (books, traces) => {
  for (const event of ofKind(traces, 'house-set').filter(({ key }) => key === 'currency')) {
    const next = versionsAfter(event, traces)
      .filter((each) => each.kind === 'house-set')
      .at(-1);
    const allowed = checkCurrency(books, next?.value ?? null);
    if (!allowed.ok) return allowed;
  }
  return null;
};

const rules: readonly Rule[] = [
  sealStays,
  shiftsStand,
  rootsStand,
  itemsStand,
  specsStand,
  lotsStand,
  peopleStand,
  placesStay,
  moneyStands,
];
