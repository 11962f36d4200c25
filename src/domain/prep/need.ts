// What to make for a night: what it will take at a stated chance of not running out, less what stands in date, in whole makings. What a card
// makes may go into another: then it is needed for that, too, and made before it.
import { prepCards, specsInUse } from '../catalogue/catalogue.ts';
import { displayAmount, shownIn } from '../catalogue/display.ts';
import type { Item } from '../catalogue/item.ts';
import { earliest, endOfDay } from '../catalogue/keeping.ts';
import type { PrepCard } from '../catalogue/spec.ts';
import { drinkFigures } from '../drink/drink.ts';
import { inputsOf, needsOf, specLines } from '../drink/measures.ts';
import { type Books, usableByItem } from '../ledger/books.ts';
import { booksAt } from '../ledger/stock/in-date.ts';
import { demandOf, type Expected, type NightUse } from '../order/demand.ts';
import { criticalRatio, newsvendor } from '../standard/stock-up.ts';
import type { Thousandths } from '../value/amount.ts';
import { addDays, businessDate, dateText, epochOf, instantOf, instantOfWall } from '../value/clock-date.ts';
import type { ItemId } from '../value/ids.ts';
import { discardOf } from './dates.ts';
import { cardFor } from './made.ts';

export type PrepInput = { readonly item: Item; readonly amount: Thousandths; readonly have: Thousandths };
export type PrepLine = {
  readonly item: Item;
  readonly card: PrepCard;
  /** Thousandths of the item's unit. */
  readonly need: Thousandths;
  readonly inDate: Thousandths;
  readonly make: Thousandths;
  readonly times: number;
  /** Until when it may be used, made now; null where nothing sets a date. */
  readonly discardAt: string | null;
  readonly inputs: readonly PrepInput[];
  readonly why: string;
};

export type PrepSetting = {
  readonly date: string;
  /** Now: what is made then has its date from then on. */
  readonly at: string;
  /** What was poured of each item, night by night. */
  readonly uses: readonly NightUse[];
  readonly expected: Expected;
  /** Chance of not running out, of what keeps. */
  readonly chance: number;
  /** Share of a usual night's drinks by the hour on the wall. */
  readonly byHour: ReadonlyMap<string, number>;
};

/** Lines in the order of work: parts before what they go into; of these by their names. */
export function prepFor(books: Books, setting: PrepSetting): PrepLine[] {
  const cards = prepCards(books).filter((card, _, all) => cardFor(all, card.makes.item) === card);
  const until = lastNeed(books, setting);
  // What is good until then is good to the last moment before it.
  const inDate = usableByItem(booksAt(books, instantOf(epochOf(until) - 1)));
  const have = usableByItem(books);
  const wanted = new Map<ItemId, Thousandths>();
  const lines: PrepLine[] = [];
  for (const card of usersFirst(cards, books)) {
    const line = lineOf(books, card, setting, wanted.get(card.makes.item) ?? 0, { inDate, have });
    if (line === null) continue;
    for (const { item, amount } of line.inputs) wanted.set(item.id, (wanted.get(item.id) ?? 0) + amount);
    lines.push(line);
  }
  return lines.reverse();
}

/** The end of the last hour in which such a night pours something; two at night where nobody knows (common practice, no source). */
function lastNeed({ house }: Books, { date, byHour }: PrepSetting): string {
  const late = [...byHour].filter(([, share]) => share > 0).map(([hour]) => Number(hour));
  const after = late.map((hour) => (hour < house.cutOffHour ? hour + 24 : hour));
  const last = after.length === 0 ? 25 : Math.max(...after);
  const day = last + 1 >= 24 ? addDays(date, 1) : date;
  const clock = `${String((last + 1) % 24).padStart(2, '0')}:00`;
  const end = endOfDay(date, house);
  const at = instantOfWall(`${day} ${clock}`, house.zone) ?? end;
  return earliest([at, end]) ?? end;
}

/** Cards before those whose makings they measure; a card that needs itself by way of others stands where it was met. */
function usersFirst(cards: readonly PrepCard[], books: Books): PrepCard[] {
  const ordered: PrepCard[] = [];
  const seen = new Set<PrepCard>();
  const visit = (card: PrepCard): void => {
    if (seen.has(card)) return;
    seen.add(card);
    for (const { item } of card.measures) {
      const part = cardFor(cards, item);
      if (part !== undefined) visit(part);
    }
    ordered.push(card);
  };
  for (const card of [...cards].sort((a, b) => (a.name < b.name ? 1 : -1)))
    if (books.items.has(card.makes.item)) visit(card);
  return ordered.reverse();
}

function lineOf(
  books: Books,
  card: PrepCard,
  setting: PrepSetting,
  parts: Thousandths,
  stock: {
    readonly inDate: ReadonlyMap<ItemId, Thousandths>;
    readonly have: ReadonlyMap<ItemId, Thousandths>;
  },
): PrepLine | null {
  const item = books.items.get(card.makes.item);
  const measured = specLines(card, books);
  if (item === undefined || !measured.ok) return null;
  const { own, says } = wantedOf(books, card, item, setting);
  const need = Math.round(own + parts);
  const inDate = Math.max(0, stock.inDate.get(item.id) ?? 0);
  const times = Math.max(0, Math.ceil((need - inDate) / card.makes.amount));
  const make = times * card.makes.amount;
  const inputs = inputsOf(measured.value, times).map((input) => ({
    ...input,
    have: Math.max(0, stock.have.get(input.item.id) ?? 0),
  }));
  const date = discardOf(books, { card, item, draws: [], at: madeAt(books, setting) });
  const amount = (value: number): string => displayAmount(Math.round(value), shownIn(item), books.house);
  const forParts = parts === 0 ? '' : `, ${amount(parts)} for what it goes into`;
  return {
    item,
    card,
    need,
    inDate,
    make,
    times,
    discardAt: date.ok ? date.value : null,
    inputs,
    why: `${says}${forParts} → ${amount(need)}; in date ${amount(inDate)} → ${times === 0 ? 'none' : `${times} × ${card.makes.text}`}`,
  };
}

/** What is for tonight is made now; for another night, in its afternoon. */
const madeAt = ({ house }: Books, { date, at }: PrepSetting): string =>
  businessDate(at, house.zone, house.cutOffHour) === date
    ? at
    : (instantOfWall(`${date} 15:00`, house.zone) ?? at);

/** Fewer days than this it keeps: what is left over is thrown away, so that the price of too much counts. */
const SHORT_DAYS = 2;

/** What a night takes of an item by itself, with the spare its chance asks for. */
function wantedOf(
  books: Books,
  card: PrepCard,
  item: Item,
  { date, uses, expected, chance }: PrepSetting,
): { readonly own: number; readonly says: string } {
  const amount = (value: number): string => displayAmount(Math.round(value), shownIn(item), books.house);
  const par = (item.par ?? 0) * item.size;
  if (item.parIs === 'fixed') return { own: par, says: `always brought back to its par ${amount(par)}` };
  const demand = demandOf(uses, item.id, expected);
  if (demand === null)
    return {
      own: par,
      says: par === 0 ? 'too few nights yet, and no par' : `too few nights yet, so its par ${amount(par)}`,
    };
  const mean = demand.on(date);
  const short = shortLived(card, item) ? ratioOf(books, item) : null;
  const asked = short ?? chance;
  // What such a night never takes needs no spare.
  const own =
    mean <= 0 ? 0 : Math.max(0, newsvendor(mean, demand.deviationOver([date]), asked, demand.skewness));
  const why = short === null ? '' : ', by what a lost drink and what is thrown away cost';
  const says = `a ${dateText(date).slice(0, 3)} takes ${amount(mean)}, spare ${amount(own - mean)} for ${Math.round(asked * 100)} nights in 100${why}`;
  return par > own ? { own: par, says: `${says}, but never below its par` } : { own, says };
}

function shortLived({ keeps = undefined }: PrepCard, item: Item): boolean {
  const rule = keeps ?? item.keeps;
  return (
    rule !== undefined && (rule.unit === 'hours' ? rule.many <= SHORT_DAYS * 24 : rule.many <= SHORT_DAYS)
  );
}

/**
 * Newsvendor: what one too little costs (the margin of the drink poured most that needs it) against what one too much does (its own cost).
 * Null where a price is not known. Between one night in two and 99 in 100: beyond that nobody knows the tail.
 */
function ratioOf(books: Books, item: Item): number | null {
  const users = specsInUse(books)
    .filter(({ measures, priceMinor }) => priceMinor !== null && measures.some((one) => one.item === item.id))
    .sort((a, b) => (books.habit.get(b.id) ?? 0) - (books.habit.get(a.id) ?? 0));
  const [spec] = users;
  const figures = spec === undefined ? null : drinkFigures(spec, books);
  if (figures === null || !figures.ok || item.costMinor === null) return null;
  const { costMinor, priceMinor, lines } = figures.value;
  const each = needsOf(lines).get(item.id) ?? 0;
  if (costMinor === null || priceMinor === null || each === 0) return null;
  const tooFew = Math.max(0, priceMinor - costMinor) / each;
  const tooMany = item.costMinor / item.size;
  if (tooFew + tooMany <= 0) return null;
  return Math.min(0.99, Math.max(0.5, criticalRatio(tooFew, tooMany)));
}

/** What has to be bought or brought for all of it: inputs that stand in no makings of this list and are short. */
export function shoppingOf(
  lines: readonly PrepLine[],
): { item: Item; amount: Thousandths; short: Thousandths }[] {
  const made = new Map(lines.map(({ item, make }) => [item.id, make]));
  const sums = new Map<ItemId, { item: Item; amount: Thousandths; have: Thousandths }>();
  for (const { inputs } of lines)
    for (const { item, amount, have } of inputs)
      sums.set(item.id, { item, have, amount: (sums.get(item.id)?.amount ?? 0) + amount });
  return [...sums.values()].flatMap(({ item, amount, have }) => {
    const short = amount - have - (made.get(item.id) ?? 0);
    return short > 0 ? [{ item, amount, short }] : [];
  });
}
