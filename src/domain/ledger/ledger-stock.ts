// The fold of what moves stock: pours, losses, deliveries, moves, opened bottles and counts.
import { exactText } from '../value/amount.ts';
import type { ItemId } from '../value/ids.ts';
import { valueAtCost, valueInMillis } from '../value/money.ts';
import {
  addFlows,
  type CountMark,
  type Flows,
  hasFlow,
  isOpen,
  netFlow,
  noFlows,
  type Period,
  type Stock,
  stockKey,
} from './books.ts';
import { addTo, type Containers, containersTotal, drawFrom, openNext, takeOut } from './containers.ts';
import type { Draw, Event, EventOf } from './event.ts';
import { type Draft, own } from './folding.ts';
import { addHour, addToTally, noTally, type Poured, withPour } from './tally.ts';

/** What one event of the stock does to the draft. */
export function applyStock(draft: Draft, event: Event): void {
  switch (event.kind) {
    case 'drink-poured':
      for (const draw of event.draws) pourDraw(draft, draw, event);
      own(draft, 'habit').set(event.spec, (draft.habit.get(event.spec) ?? 0) + event.count);
      if (draft.shift !== null)
        draft.shift = withPour(
          draft.shift,
          event,
          event.spec,
          `${event.count > 1 ? `${event.count} ` : ''}${event.name}`,
          draft.house.zone,
        );
      addRunning(draft, event, event.spec);
      return;
    case 'measure-poured':
      for (const draw of event.draws) pourDraw(draft, draw, event);
      if (draft.shift !== null)
        draft.shift = withPour(draft.shift, event, null, straightText(draft, event), draft.house.zone);
      addRunning(draft, event, '');
      return;
    case 'stock-lost':
      addLost(draft, event);
      flow(
        draft,
        event.item,
        event.place,
        { lost: event.amount, why: { [event.why]: event.amount } },
        (held, size) => drawFrom(held, event.amount, size),
      );
      return;
    case 'delivery-received':
      receive(draft, event);
      return;
    case 'stock-moved':
      flow(draft, event.item, event.from, { movedOut: event.amount }, (held, size) =>
        takeOut(held, event.amount, size),
      );
      beginEmpty(draft, event.item, event.to, event);
      flow(draft, event.item, event.to, { movedIn: event.amount }, (held, size) =>
        addTo(held, event.amount, size),
      );
      return;
    case 'bottle-opened':
      flow(draft, event.item, event.place, {}, (held, size) => openNext(held, size) ?? held);
      return;
    case 'stock-counted':
      count(draft, event);
      return;
    default:
      return; // a take-back acts by what it leaves out; notes, corrections and till lines move no stock
  }
}

/** What was lost, at the cost of the moment: in all, and in the shift it was noted under or that comes next. */
function addLost(draft: Draft, { item, amount }: EventOf<'stock-lost'>): void {
  const known = draft.items.get(item);
  if (known === undefined || known.costMinor === null) return;
  const millis = valueInMillis(amount, known.costMinor, known.size);
  draft.lostMillis += millis;
  if (isOpen(draft.shift)) draft.shift = { ...draft.shift, lostMillis: draft.shift.lostMillis + millis };
  else draft.lostBetween += millis;
}

/** The totals since the books began: any stretch of nights is the difference of two of them. */
function addRunning(draft: Draft, event: Poured, spec: string): void {
  own(draft, 'tallies').set(spec, addToTally(draft.tallies.get(spec) ?? noTally, event));
  draft.byHour = addHour(draft.byHour, event, draft.house.zone);
}

function straightText(draft: Draft, event: EventOf<'measure-poured'>): string {
  const [draw] = event.draws;
  const item = draw === undefined ? undefined : draft.items.get(draw.item);
  if (draw === undefined || item === undefined) return 'a straight measure';
  const times = event.count > 1 ? `${event.count} × ` : '';
  return `${times}${exactText(draw.amount / event.count)} ${item.unit === 'each' ? '' : `${item.unit} `}${item.name}`;
}

/**
 * A place where an item never stood and does not live begins empty: what is moved or delivered there can be missing from the
 * first count on. Where it lives it may have stood before the books began, and the first count is its beginning.
 */
function beginEmpty(draft: Draft, item: ItemId, place: string, event: Event): void {
  const key = stockKey(item, place);
  if (draft.stock.has(key) || draft.items.get(item)?.place === place) return;
  const mark: CountMark = {
    event: event.id,
    at: event.at,
    by: event.by,
    shift: event.shift,
    reading: 'empty',
    method: 'pieces',
    amount: 0,
    deviation: 0,
    densityDeviation: 0,
  };
  own(draft, 'stock').set(key, { ...newStock(item, place), counted: mark, first: { mark, total: noFlows } });
}

function receive(draft: Draft, event: EventOf<'delivery-received'>): void {
  beginEmpty(draft, event.item, event.place, event);
  flow(draft, event.item, event.place, { received: event.amount }, (held, size) =>
    addTo(held, event.amount, size),
  );
  const item = draft.items.get(event.item);
  // A delivery whose cost nobody gave is worth what the item cost last.
  const cost = event.costMinor ?? item?.costMinor ?? null;
  if (item === undefined || cost === null) return;
  if (cost !== item.costMinor) own(draft, 'items').set(item.id, { ...item, costMinor: cost });
  const before = draft.bought.get(item.id) ?? { amount: 0, costMinor: 0 };
  own(draft, 'bought').set(item.id, {
    amount: before.amount + event.amount,
    costMinor: before.costMinor + valueAtCost(event.amount, cost, item.size),
  });
}

function pourDraw(draft: Draft, draw: Draw, event: Poured): void {
  const { amount } = draw;
  const spec = event.kind === 'drink-poured' ? event.spec : '';
  // Each glass is a pour of its own, with a scatter of its own.
  const added = {
    poured: amount,
    pours: event.count,
    by: { [event.by ?? '']: amount },
    bySpec: { [spec]: amount },
    as: { [event.as]: amount },
  };
  flow(draft, draw.item, draw.place, added, (held, size) => drawFrom(held, amount, size));
}

const newStock = (item: ItemId, place: string): Stock => ({
  item,
  place,
  amount: 0,
  sealed: 0,
  open: [],
  counted: null,
  period: null,
  before: null,
  flows: noFlows,
  total: noFlows,
  first: null,
});

function flow(
  draft: Draft,
  item: ItemId,
  place: string,
  added: Partial<Flows>,
  change: (held: Containers, size: number) => Containers,
): void {
  const key = stockKey(item, place);
  const stock = draft.stock.get(key) ?? newStock(item, place);
  const size = draft.items.get(item)?.size ?? 1_000_000;
  const { sealed, open } = change(stock, size);
  const flows = addFlows(stock.flows, added);
  const amount = stock.amount + netFlow(flows) - netFlow(stock.flows);
  // A container whose size was changed later could leave a difference; the amount is what the events say.
  const drift = amount - containersTotal({ sealed, open }, size);
  const mended = drift === 0 ? open : [...open.slice(0, -1), (open.at(-1) ?? 0) + drift];
  own(draft, 'stock').set(key, { ...stock, amount, sealed, open: mended, flows });
}

function count(draft: Draft, event: EventOf<'stock-counted'>): void {
  const key = stockKey(event.item, event.place);
  const stock = draft.stock.get(key) ?? newStock(event.item, event.place);
  const mark: CountMark = {
    event: event.id,
    at: event.at,
    by: event.by,
    shift: event.shift,
    reading: event.reading,
    method: event.method,
    amount: event.amount,
    deviation: event.deviation,
    densityDeviation: event.densityDeviation,
  };
  // What is sealed stays: a second look after the seal is a count of its own.
  const isSealed = draft.sealedUntil !== null && (stock.counted?.at ?? '') <= draft.sealedUntil;
  const replaces = event.again && stock.counted !== null && !hasFlow(stock.flows) && !isSealed;
  const period = replaces ? secondReading(stock, mark) : periodUpTo(stock, mark);
  if (period !== null) notePeriod(draft, period, replaces ? stock.period : null);
  const total = addFlows(stock.total, stock.flows);
  // The first count, or a second look at it.
  const isFirst = stock.counted === null || (replaces && stock.first?.mark.event === stock.counted.event);
  own(draft, 'stock').set(key, {
    ...stock,
    amount: event.amount,
    sealed: event.sealed,
    open: event.open.filter((level) => level > 0),
    counted: mark,
    period,
    before: replaces ? stock.before : stock.period,
    flows: noFlows,
    total,
    first: isFirst ? { mark, total } : stock.first,
  });
}

const periodUpTo = (stock: Stock, to: CountMark): Period | null =>
  stock.counted === null
    ? null
    : { item: stock.item, place: stock.place, from: stock.counted, to, flows: stock.flows };

const secondReading = (stock: Stock, to: CountMark): Period | null =>
  stock.period === null ? null : { ...stock.period, to };

function notePeriod(draft: Draft, period: Period, replaced: Period | null): void {
  const replace = (periods: readonly Period[]) => [
    ...periods.filter((known) => known.to.event !== replaced?.to.event),
    period,
  ];
  if (isOpen(draft.shift)) draft.shift = { ...draft.shift, periods: replace(draft.shift.periods) };
  else draft.between = replace(draft.between);
}
