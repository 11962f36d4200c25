// What to order of whom: for each item the demand until the delivery after the next, a spare that a stated chance asks for, less what is
// there and on its way, in whole cases. Every line says its arithmetic.
import { prepCards } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { Supplier } from '../catalogue/supplier.ts';
import { type Books, usableByItem } from '../ledger/books.ts';
import { casesFor, reviewTarget } from '../standard/stock-up.ts';
import { dateText } from '../value/clock-date.ts';
import type { ItemId } from '../value/ids.ts';
import { nextDelivery, nightsBetween } from './calendar.ts';
import { type Demand, demandOf, type Expected, type NightUse } from './demand.ts';
import { HOUSE_Z } from './house-pours.ts';

export type OrderLine = {
  readonly item: Item;
  /** In containers. */
  readonly onHand: number;
  readonly onOrder: number;
  readonly meanPerDay: number;
  readonly deviationPerDay: number;
  readonly days: number;
  readonly z: number;
  readonly target: number;
  readonly need: number;
  readonly cases: number;
  readonly containers: number;
  /** Of these so many only because the least an order is worth was not reached. */
  readonly forMinimum: number;
  readonly costMinor: number | null;
  readonly why: string;
};

/** A line as somebody wants it: so many cases, whatever the figures say. */
export function withCases(line: OrderLine, cases: number): OrderLine {
  const { item } = line;
  const containers = cases * (item.caseOf ?? 1);
  return {
    ...line,
    cases,
    containers,
    forMinimum: 0,
    costMinor: item.costMinor === null ? null : item.costMinor * containers,
    why: `${line.why}; by hand ${orderText(item, cases, containers)}`,
  };
}

export type SupplierOrder = {
  /** Null: what nobody is named for. */
  readonly supplier: Supplier | null;
  readonly orderBy: string;
  readonly deliveryAt: string;
  readonly coversUntil: string;
  readonly costMinor: number;
  /** What stands of its things, is on its way and is on this order, at cost: money that is tied up until it is sold. */
  readonly tiesUpMinor: number;
  /** What is missing to the least an order is worth, minor units; 0 when nothing is. */
  readonly belowMinimum: number;
  readonly lines: readonly OrderLine[];
};

export type OrderSetting = {
  readonly uses: readonly NightUse[];
  readonly expected: Expected;
  readonly onOrder: ReadonlyMap<ItemId, number>;
  /** Business date and clock on the house's wall. */
  readonly today: string;
  readonly clock: string;
  readonly z: number;
  /** What a night can't be without. */
  readonly house: ReadonlySet<ItemId>;
};

/** Fewer containers a day than this: one a fortnight. Then a shelf with one or two is all there is to say. */
const SLOW = 1 / 14;

/** Whom nobody is named for is asked as one who can come any day. */
const anybody: Omit<Supplier, 'id' | 'name'> = {
  orderDays: [],
  cutOff: null,
  deliveryDays: [],
  leadDays: 7,
  minimumMinor: null,
  contact: '',
};

/** One list a supplier, in the order they must be ordered; lines in the order of the walk. Only what is needed has a line. */
export function ordersFor(
  books: Books,
  setting: OrderSetting,
  isShown: (line: OrderLine) => boolean = ({ containers }) => containers > 0,
): SupplierOrder[] {
  const expected = usableByItem(books);
  const made = new Set(prepCards(books).map(({ makes }) => makes.item));
  const bySupplier = new Map<string, Item[]>();
  for (const item of books.items.values()) {
    // What is made here is not ordered; what it is made of is.
    if (item.retired === true || made.has(item.id)) continue;
    const id = item.supplier ?? '';
    bySupplier.set(id, [...(bySupplier.get(id) ?? []), item]);
  }
  return [...bySupplier]
    .map(([id, items]): SupplierOrder => {
      const supplier = [...books.suppliers.values()].find((one) => one.id === id) ?? null;
      const asked = supplier ?? ({ ...anybody, id, name: '' } as Supplier);
      const delivery = nextDelivery(asked, setting.today, setting.clock);
      const nights = nightsBetween(setting.today, delivery.coversUntil);
      const all = items
        .sort((a, b) => (walkKey(a) < walkKey(b) ? -1 : 1))
        .map((item) => lineOf(item, expected.get(item.id) ?? 0, nights, delivery.coversUntil, setting));
      const least = supplier?.minimumMinor ?? 0;
      const lines = filledUp(all, least).filter(isShown);
      const costMinor = costOf(lines);
      return {
        supplier,
        ...delivery,
        costMinor,
        tiesUpMinor: tiedUp(all) + costMinor,
        belowMinimum: lines.length === 0 ? 0 : Math.max(0, least - costMinor),
        lines,
      };
    })
    .filter(({ lines }) => lines.length > 0)
    .sort((a, b) => (a.orderBy < b.orderBy ? -1 : a.orderBy > b.orderBy ? 1 : 0));
}

const costOf = (lines: readonly OrderLine[]): number =>
  lines.reduce((sum, line) => sum + (line.costMinor ?? 0), 0);

/** What stands and is on its way, at cost. */
const tiedUp = (all: readonly OrderLine[]): number =>
  Math.round(
    all.reduce((sum, { item, onHand, onOrder }) => sum + (onHand + onOrder) * (item.costMinor ?? 0), 0),
  );

/** Nobody fills an order with what stands there for longer than this, nor than it keeps; days. */
const longestCover = ({ keeps }: Item): number =>
  keeps === undefined ? 60 : Math.min(60, keeps.unit === 'days' ? keeps.many : keeps.many / 24);

/** Days until what is there, on its way and on this order is gone. */
const coverOf = ({ onHand, onOrder, containers, meanPerDay }: OrderLine): number =>
  (Math.max(0, onHand) + onOrder + containers) / meanPerDay;

/** An order that is needed and not worth enough is filled with whole cases of what runs out first. */
function filledUp(all: readonly OrderLine[], least: number): readonly OrderLine[] {
  if (all.every(({ containers }) => containers === 0)) return all;
  let lines = all;
  while (costOf(lines) < least) {
    const [first] = lines
      .filter(({ item, meanPerDay }) => meanPerDay >= SLOW && (item.costMinor ?? 0) > 0)
      .map((line) => ({ line, more: withCase(line) }))
      .filter(({ more }) => coverOf(more) <= longestCover(more.item))
      .sort((a, b) => coverOf(a.line) - coverOf(b.line));
    // What can't reach the least is not filled for nothing.
    if (first === undefined) return all;
    lines = lines.map((line) => (line === first.line ? first.more : line));
  }
  return lines;
}

function withCase(line: OrderLine): OrderLine {
  const { item, cases, containers, forMinimum } = line;
  const one = item.caseOf ?? 1;
  const added = forMinimum + one;
  return {
    ...line,
    cases: cases + 1,
    containers: containers + one,
    forMinimum: added,
    costMinor: (item.costMinor ?? 0) * (containers + one),
    why: `${line.why.replace(FILLED, '')}, and ${orderText(item, added / one, added)} to reach the least`,
  };
}
const FILLED = /, and [^,]* to reach the least$/;

/** Place by place and shelf by shelf, as it is counted. */
const walkKey = ({ place, shelf, name }: Item): string => `${place}\n${shelf.padStart(20, '0')}\n${name}`;

function lineOf(
  item: Item,
  stood: number,
  nights: readonly string[],
  until: string,
  setting: OrderSetting,
): OrderLine {
  const demand = demandOf(setting.uses, item.id, setting.expected);
  // Below nothing stands nothing: what was poured beyond the books is gone already.
  const onHand = Math.max(0, stood) / item.size;
  const onOrder = setting.onOrder.get(item.id) ?? 0;
  const z = setting.house.has(item.id) ? Math.max(HOUSE_Z, setting.z) : setting.z;
  const { target, says } = targetOf(item, demand, nights, until, z, setting.expected);
  const { need, cases } = casesFor(target, onHand, onOrder, item.caseOf ?? 1);
  const containers = cases * (item.caseOf ?? 1);
  return {
    item,
    onHand,
    onOrder,
    meanPerDay: demand === null ? 0 : demand.meanPerDay / item.size,
    deviationPerDay: demand === null ? 0 : demand.deviationOver(nights) / item.size,
    days: nights.length,
    z,
    target,
    need,
    cases,
    containers,
    forMinimum: 0,
    costMinor: item.costMinor === null ? null : item.costMinor * containers,
    why: `${says} → ${shown(target)}; have ${shown(onHand)}${onOrder === 0 ? '' : `, ${shown(onOrder)} on order`} → ${shown(need)} → ${orderText(item, cases, containers)}`,
  };
}

const shown = (value: number): string => {
  const text = value.toFixed(value < 10 && !Number.isInteger(value) ? 1 : 0);
  return text === '-0' ? '0' : text;
};

const orderText = ({ caseOf }: Item, cases: number, containers: number): string =>
  containers === 0
    ? 'none'
    : caseOf === null || caseOf === 1
      ? `${containers}`
      : `${cases} ${cases === 1 ? 'case' : 'cases'} of ${caseOf}`;

/** A par that is set is a floor; with too few nights, or of what hardly moves, it is all there is. */
function targetOf(
  item: Item,
  demand: Demand | null,
  nights: readonly string[],
  until: string,
  z: number,
  expected: Expected,
): { readonly target: number; readonly says: string } {
  const par = item.par ?? 0;
  if (item.parIs === 'fixed') return { target: par, says: `always brought back to its par ${shown(par)}` };
  if (demand === null)
    return {
      target: par,
      says: par === 0 ? 'too few nights yet, and no par' : `too few nights yet, so its par ${shown(par)}`,
    };
  const [mean, deviation] = [demand.meanPerDay / item.size, demand.deviationOver(nights) / item.size];
  const takes = nights.reduce((sum, date) => sum + demand.on(date), 0) / item.size;
  const delivery = `next but one delivery ${dateText(until).slice(0, 3)}`;
  if (mean < SLOW) {
    const kept = takes === 0 && par === 0 ? 0 : takes > 0.5 ? 2 : 1;
    const target = Math.max(par, mean === 0 ? par : kept);
    return { target, says: `sells less than one a fortnight, so ${shown(target)} on the shelf` };
  }
  const target = reviewTarget(takes, deviation, nights.length, z);
  const spare = target - takes;
  const days = nights
    .filter((date) => (expected.get(date) ?? 1) !== 1)
    .map((date) => `${dateText(date)} × ${expected.get(date)}`);
  const known = days.length === 0 ? '' : `, ${days.join(', ')}`;
  const says = `sells ${shown(mean * 7)} a week, ${takes.toFixed(1)} until the ${delivery}${known}, spare ${spare.toFixed(1)}`;
  return par > target ? { target: par, says: `${says}, but never below its par` } : { target, says };
}
