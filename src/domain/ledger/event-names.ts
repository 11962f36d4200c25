// What an event names: the items it moves, and the cards, people, items and shifts that must be there for it to stand.
import { TAP_WATER } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import type { EventId, ItemId, PersonId, SpecId } from '../value/ids.ts';
import type { Event, EventDraft } from './event.ts';

/** The items an event moves, counts or weighs; none for what only describes the house or is said of a shift. */
export function itemsOf(event: Event | EventDraft): readonly ItemId[] {
  switch (event.kind) {
    case 'drink-poured':
    case 'measure-poured':
      return event.draws.map(({ item }) => item);
    case 'prep-made':
      return [...event.draws.map(({ item }) => item), event.item];
    case 'stock-lost':
    case 'delivery-received':
    case 'stock-moved':
    case 'bottle-opened':
    case 'stock-counted':
      return [event.item];
    default:
      return [];
  }
}

/** What a card needs to be stocked: its measures but for what comes from the tap, and what it makes. */
export const itemsOnCard = ({ measures, makes }: Spec): ItemId[] => [
  ...measures.map(({ item }) => item).filter((item) => item !== TAP_WATER.id),
  ...(makes === undefined ? [] : [makes.item]),
];

/** What else an event names, and what must therefore be there: cards, people, items and shifts beside those of its stock. */
export function namesOf(event: Event): {
  readonly specs: readonly SpecId[];
  readonly people: readonly PersonId[];
  readonly items: readonly ItemId[];
  readonly shifts: readonly EventId[];
} {
  const names = {
    specs: [] as SpecId[],
    people: event.by === null ? [] : [event.by],
    items: [] as ItemId[],
    shifts: [] as EventId[],
  };
  if (event.kind === 'drink-poured' || event.kind === 'prep-made') names.specs.push(event.spec);
  if (event.kind === 'till-name-matched' && event.spec !== null) names.specs.push(event.spec);
  if (event.kind === 'person-left') names.people.push(event.person);
  if (event.kind === 'handed-over' && event.to !== null) names.people.push(event.to);
  if (event.kind === 'till-name-matched' && event.straight !== undefined)
    names.items.push(event.straight.item);
  if (event.kind === 'readings-compared') names.items.push(event.item);
  if (event.kind === 'note-written' || event.kind === 'report-corrected') {
    if (event.item !== null) names.items.push(event.item);
    if (event.shift !== null) names.shifts.push(event.shift);
  }
  if (event.kind === 'marked-out' || event.kind === 'marked-back') {
    if (event.item !== null) names.items.push(event.item);
    if (event.spec !== null) names.specs.push(event.spec);
  }
  if (event.kind === 'order-placed') names.items.push(...event.lines.map(({ item }) => item));
  if (event.kind === 'spec-written') names.items.push(...itemsOnCard(event.spec));
  return names;
}
