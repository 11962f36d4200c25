// What runs out, and about when: from what left tonight, with an honest range. Fewer than five pours say nothing.

import type { Item } from '../catalogue/item.ts';
import { type Books, isOpen, usableByItem } from '../ledger/books.ts';
import { epochOf, instantOf } from '../value/clock-date.ts';

export type OutBy = {
  readonly item: Item;
  /** Expected now, thousandths of the unit. */
  readonly left: number;
  readonly about: string;
  /** The pours of a night come at chance: two standard deviations of their number (√n) on either side. */
  readonly earliest: string;
  readonly latest: string;
};

const ENOUGH_POURS = 5;
const SHORTEST_HOURS = 0.5;
const HOUR = 3_600_000;

/** Items that run out within so many hours at tonight's pace, soonest first. */
export function outBy(books: Books, now: string, withinHours: number): OutBy[] {
  const { shift } = books;
  if (!isOpen(shift)) return [];
  const hours = Math.max(SHORTEST_HOURS, (epochOf(now) - epochOf(shift.openedAt)) / HOUR);
  const expected = usableByItem(books);
  const list: OutBy[] = [];
  for (const [id, drawn] of shift.drawnBy) {
    const item = books.items.get(id);
    const left = expected.get(id) ?? 0;
    const poured = [...drawn.values()].reduce((sum, amount) => sum + amount, 0);
    const pours = poursOf(books, id, poured);
    if (item === undefined || left <= 0 || pours < ENOUGH_POURS) continue;
    const until = (left / (poured / hours)) * HOUR;
    if (until > withinHours * HOUR) continue;
    const spread = 2 / Math.sqrt(pours);
    const at = (ms: number): string => instantOf(epochOf(now) + ms);
    list.push({
      item,
      left,
      about: at(until),
      earliest: at(until / (1 + spread)),
      latest: at(spread >= 1 ? until * 4 : until / (1 - spread)),
    });
  }
  return list.sort((a, b) => (a.about < b.about ? -1 : 1));
}

/** How many pours that was: by the size of the item's typical pour since its last count. */
function poursOf(books: Books, id: Item['id'], poured: number): number {
  let [amount, pours] = [0, 0];
  for (const stock of books.stock.values()) {
    if (stock.item !== id) continue;
    amount += stock.flows.poured;
    pours += stock.flows.pours;
  }
  return amount === 0 ? 0 : Math.round((poured / amount) * pours);
}
