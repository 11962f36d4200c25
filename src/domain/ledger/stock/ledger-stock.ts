// The fold of what moves stock: pours, losses, deliveries, moves, opened bottles and counts.

import { exactText } from '../../value/amount.ts';
import type { Drawer, ItemId, Pourer } from '../../value/ids.ts';
import { valueInMillis } from '../../value/money.ts';
import { type CountMark, isOpen, type Period, type Stock, stockKey } from '../books.ts';
import type { Draw, Event, EventOf } from '../event.ts';
import { type Folding, newStock, own } from '../folding.ts';
import { addHour, addToTally, type Mine, noTally, type Poured, withPour } from '../tally.ts';
import {
  addTo,
  baselineOf,
  containersTotal,
  drawFrom,
  elsewhereOf,
  isBeyondCeiling,
  openNext,
  slackOf,
  takeOut,
} from './containers.ts';
import { beginEmpty, flow, openedSince } from './flowing.ts';
import { addFlows, type Flows, hasFlow, netFlow, noFlows } from './flows.ts';
import { noteDelivery, noteDiscard, settleLots } from './lots.ts';
import { make } from './making.ts';
import { noteBought, noteFound } from './worth.ts';

/** What one event of the stock does to the folding. */
export function applyStock(folding: Folding, event: Event): void {
  moveStock(folding, event);
  if (folding.lots.size > 0) settleLots(folding, event);
}

function moveStock(folding: Folding, event: Event): void {
  switch (event.kind) {
    case 'drink-poured':
      for (const draw of event.draws) pourDraw(folding, draw, event);
      folding.habit = own(folding, folding.habit).set(
        event.spec,
        (folding.habit.get(event.spec) ?? 0) + event.count,
      );
      if (folding.shift !== null)
        folding.shift = withPour(
          folding.shift,
          event,
          event.spec,
          `${event.count > 1 ? `${event.count} ` : ''}${event.name}`,
          folding.house.zone,
          ownIn(folding),
        );
      addRunning(folding, event, event.spec);
      return;
    case 'measure-poured':
      for (const draw of event.draws) pourDraw(folding, draw, event);
      if (folding.shift !== null)
        folding.shift = withPour(
          folding.shift,
          event,
          null,
          straightText(folding, event),
          folding.house.zone,
          ownIn(folding),
        );
      addRunning(folding, event, '');
      return;
    case 'stock-lost':
      addLost(folding, event);
      noteDiscard(folding, event);
      flow(
        folding,
        event.item,
        event.place,
        { lost: event.amount, why: { [event.why]: event.amount } },
        (held, size) => drawFrom(held, event.amount, size),
        event.at,
      );
      return;
    case 'delivery-received':
      receive(folding, event);
      return;
    case 'prep-made':
      make(folding, event);
      return;
    case 'stock-moved':
      flow(folding, event.item, event.from, { movedOut: event.amount }, (held, size) =>
        takeOut(held, event.amount, size),
      );
      beginEmpty(folding, event.item, event.to, event);
      flow(folding, event.item, event.to, { movedIn: event.amount }, (held, size) =>
        addTo(held, event.amount, size),
      );
      return;
    case 'bottle-opened':
      flow(folding, event.item, event.place, {}, (held, size) => openNext(held, size) ?? held, event.at);
      return;
    case 'stock-counted':
      count(folding, event);
      return;
    default:
      return; // a take-back acts by what it leaves out; notes, corrections and till lines move no stock
  }
}

const ownIn =
  (folding: Folding): Mine =>
  (map) =>
    own(folding, map);

/** What was lost, at the cost of the moment: in all, and in the shift it was noted under or that comes next. */
function addLost(folding: Folding, { item, amount }: EventOf<'stock-lost'>): void {
  const known = folding.items.get(item);
  if (known === undefined || known.costMinor === null) return;
  const millis = valueInMillis(amount, known.costMinor, known.size);
  folding.lostMillis += millis;
  if (isOpen(folding.shift))
    folding.shift = { ...folding.shift, lostMillis: folding.shift.lostMillis + millis };
  else folding.lostBetween += millis;
}

/** The totals since the books began: any stretch of nights is the difference of two of them. */
function addRunning(folding: Folding, event: Poured, spec: Drawer): void {
  folding.tallies = own(folding, folding.tallies).set(
    spec,
    addToTally(folding.tallies.get(spec) ?? noTally, event),
  );
  folding.byHour = addHour(folding.byHour, event, folding.house.zone, ownIn(folding));
}

function straightText(folding: Folding, event: EventOf<'measure-poured'>): string {
  const [draw] = event.draws;
  const item = draw === undefined ? undefined : folding.items.get(draw.item);
  if (draw === undefined || item === undefined) return 'a straight measure';
  const times = event.count > 1 ? `${event.count} × ` : '';
  return `${times}${exactText(draw.amount / event.count)} ${item.unit === 'each' ? '' : `${item.unit} `}${item.name}`;
}

function receive(folding: Folding, event: EventOf<'delivery-received'>): void {
  const item = folding.items.get(event.item);
  // A delivery whose cost nobody gave is worth what the item cost last.
  const cost = event.costMinor ?? item?.costMinor ?? null;
  if (item !== undefined && cost !== null) {
    noteBought(folding, item, { amount: event.amount, costMinor: cost, at: event.at });
    if (cost !== item.costMinor)
      folding.items = own(folding, folding.items).set(item.id, { ...item, costMinor: cost });
  }
  beginEmpty(folding, event.item, event.place, event);
  noteDelivery(folding, event);
  flow(folding, event.item, event.place, { received: event.amount }, (held, size) =>
    addTo(held, event.amount, size),
  );
}

function pourDraw(folding: Folding, draw: Draw, event: Poured): void {
  const { amount } = draw;
  const spec: Drawer = event.kind === 'drink-poured' ? event.spec : '';
  const by: Pourer = event.by ?? '';
  // Each glass is a pour of its own, with a scatter of its own.
  const added = {
    poured: amount,
    pours: event.count,
    by: new Map([[by, amount]]),
    bySpec: new Map([[spec, amount]]),
    as: { [event.as]: amount },
  };
  flow(folding, draw.item, draw.place, added, (held, size) => drawFrom(held, amount, size), event.at);
}

function count(folding: Folding, event: EventOf<'stock-counted'>): void {
  const key = stockKey(event.item, event.place);
  let stock = folding.stock.get(key) ?? newStock(event.item, event.place);
  const read: CountMark = {
    event: event.id,
    at: event.at,
    by: event.by,
    shift: event.shift,
    reading: event.reading,
    method: event.method,
    amount: event.amount,
    deviation: event.deviation,
    densityDeviation: event.densityDeviation,
    ...(event.again ? { again: true } : {}),
    ...(event.sure === true ? { sure: true } : {}),
  };
  // What is sealed stays: a second look after the seal is a count of its own.
  const isSealed = folding.sealedUntil !== null && (stock.counted?.at ?? '') <= folding.sealedUntil;
  const isSecond = event.again && stock.counted !== null && !hasFlow(stock.flows) && !isSealed;
  const mark = markedAs(folding, stock, read, isSecond);
  // A second look at more than can be there replaces nothing: the first one stands.
  const replaces = isSecond && mark.improbable !== true;
  const period = replaces ? secondReading(stock, mark) : periodUpTo(stock, mark);
  // A count after an improbable one answers it: the stretch up to that is none of its own.
  const isAnswer = replaces || stock.counted?.improbable === true;
  if (period !== null) notePeriod(folding, period, isAnswer ? stock.period : null);
  const total = addFlows(stock.total, stock.flows);
  // The first count, or a second look at it.
  const isFirst = stock.counted === null || (replaces && stock.first?.mark.event === stock.counted.event);
  if (isFirst) {
    noteFound(
      folding,
      stock,
      stoodBefore(mark, total),
      stock.first === null ? 0 : stoodBefore(stock.first.mark, total),
    );
    stock = folding.stock.get(key) ?? stock;
  }
  const { openedAt, ...rest } = stock;
  folding.stock = own(folding, folding.stock).set(key, {
    ...rest,
    // What stands open was opened by then at the latest.
    ...openedSince(folding, event.item, event.open, openedAt ?? event.at),
    // What can't be there is no stock: the books go on from what they expected.
    ...(mark.improbable === true ? {} : foundIn(event, folding.items.get(event.item)?.size)),
    counted: mark,
    period,
    before: isAnswer ? stock.before : stock.period,
    flows: noFlows,
    total,
    first: isFirst ? { mark, total } : stock.first,
  });
}

/** A reading beyond what can be there is marked, so that it touches nobody's figures. */
function markedAs(folding: Folding, stock: Stock, read: CountMark, replaces: boolean): CountMark {
  const { from, flows } = replaces ? (stock.period ?? { from: null, flows: noFlows }) : baselineOf(stock);
  if (read.sure === true || from === null) return read;
  const item = folding.items.get(stock.item);
  if (item === undefined) return read;
  // One bottle too many is a slip, and told as one; a wild reading is more than that.
  const most = elsewhereOf(folding.stock.values(), stock) + slackOf(item, stock.amount);
  return isBeyondCeiling(from, flows, read, most) ? { ...read, improbable: true } : read;
}

/** What came and went before the first count is in the purchases and the pours; the rest stood there. */
const stoodBefore = (first: CountMark, total: Flows): number => Math.max(0, first.amount - netFlow(total));

/** What was found, in containers of the size the item has now: a size that was written or taken back since cuts it anew. */
function foundIn(
  { amount, sealed, open }: EventOf<'stock-counted'>,
  size: number | undefined,
): Pick<Stock, 'amount' | 'sealed' | 'open'> {
  const levels = open.filter((level) => level > 0);
  const closed = amount - levels.reduce((sum, level) => sum + level, 0);
  return size === undefined || closed === sealed * size
    ? { amount, sealed, open: levels }
    : { amount, ...cutInto(closed, size, levels) };
}

/** So much sealed liquid in containers of a size; what fills none stands open. */
function cutInto(liquid: number, size: number, open: readonly number[]): Pick<Stock, 'sealed' | 'open'> {
  const rest = liquid % size;
  return { sealed: Math.floor(liquid / size), open: rest === 0 ? open : [...open, rest] };
}

function periodUpTo(stock: Stock, to: CountMark): Period | null {
  const { from, flows } = baselineOf(stock);
  return from === null ? null : { item: stock.item, place: stock.place, from, to, flows };
}

const secondReading = (stock: Stock, to: CountMark): Period | null =>
  stock.period === null ? null : { ...stock.period, to };

function notePeriod(folding: Folding, period: Period, replaced: Period | null): void {
  const replace = (periods: readonly Period[]) => [
    ...periods.filter((known) => known.to.event !== replaced?.to.event),
    period,
  ];
  if (isOpen(folding.shift)) folding.shift = { ...folding.shift, periods: replace(folding.shift.periods) };
  else folding.between = replace(folding.between);
}

/** What stands sealed of an item whose size changes keeps the size it was filled in: full, beside what is open. */
export function keepSealed(folding: Folding, item: ItemId, size: number): void {
  for (const [key, stock] of folding.stock) {
    if (stock.item !== item || stock.sealed === 0) continue;
    const full = Array.from({ length: Math.min(stock.sealed, MOST_KEPT_FULL) }, () => size);
    const rest = (stock.sealed - full.length) * size;
    const open = [...stock.open, ...full, ...(rest === 0 ? [] : [rest])];
    folding.stock = own(folding, folding.stock).set(key, { ...stock, sealed: 0, open });
  }
}
/** Nobody has more such bottles; what is beyond them is kept as one amount. */
const MOST_KEPT_FULL = 100;

/**
 * An item that is written, or written again, where something of it stands already: another station used it while its writing was taken
 * back. What stands there is the same liquid, in containers of the size that is known now.
 */
export function settleKnown(folding: Folding, item: ItemId, size: number): void {
  for (const [key, stock] of folding.stock) {
    if (stock.item !== item || containersTotal(stock, size) === stock.amount) continue;
    const cut = stock.amount < 0 ? { sealed: 0, open: [stock.amount] } : cutInto(stock.amount, size, []);
    folding.stock = own(folding, folding.stock).set(key, { ...stock, ...cut });
  }
}

/** Of what is only so many pieces: what stands is the same liquid, cut into containers of the new size. */
export function recut(folding: Folding, item: ItemId, from: number, to: number): void {
  for (const [key, stock] of folding.stock) {
    if (stock.item !== item) continue;
    const cut = cutInto(stock.sealed * from, to, stock.open);
    folding.stock = own(folding, folding.stock).set(key, { ...stock, ...cut });
  }
}
