// Orders as somebody changed them: so many cases of a thing, whatever the figures say; and what that costs.
import type { ItemId } from '../value/ids.ts';
import { type SupplierOrder, withCases } from './order.ts';

/** Cases by item, as they were typed. */
export type Edits = ReadonlyMap<ItemId, number>;

/** All lines with what was typed; of the rest only what is needed. An order without a line is none. */
export function editedOrders(all: readonly SupplierOrder[], edits: Edits): SupplierOrder[] {
  return all.flatMap((order) => {
    const lines = order.lines
      .map((line) => {
        const cases = edits.get(line.item.id);
        return cases === undefined || cases === line.cases ? line : withCases(line, cases);
      })
      .filter(({ item, containers }) => containers > 0 || edits.has(item.id));
    if (lines.length === 0) return [];
    const costMinor = lines.reduce((sum, line) => sum + (line.costMinor ?? 0), 0);
    const least = order.supplier?.minimumMinor ?? 0;
    const tiesUpMinor = order.tiesUpMinor - order.costMinor + costMinor;
    return [{ ...order, lines, costMinor, tiesUpMinor, belowMinimum: Math.max(0, least - costMinor) }];
  });
}
