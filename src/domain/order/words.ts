// What is read of an order, and what is sent of it.
import type { Books } from '../ledger/books.ts';
import { dateText } from '../value/clock-date.ts';
import { formatMoney } from '../value/money.ts';
import type { SupplierOrder } from './order.ts';

export const supplierName = ({ supplier }: Pick<SupplierOrder, 'supplier'>): string =>
  supplier?.name ?? 'nobody is named for these';

/** Whom, by when, for which day, until when that must do, and what it costs. */
export function headText(order: SupplierOrder, { house }: Books): string {
  const money = (minor: number): string => `${formatMoney(minor, house.currency)} ${house.currency}`;
  const least = order.belowMinimum === 0 ? '' : `, ${money(order.belowMinimum)} below the least`;
  return `${supplierName(order)}: order by ${dateText(order.orderBy)}${order.supplier?.cutOff == null ? '' : ` ${order.supplier.cutOff}`}, comes ${dateText(order.deliveryAt)}, must do until ${dateText(order.coversUntil)} · ${money(order.costMinor)}${least}, with what is there ${money(order.tiesUpMinor)} tied up`;
}

/** What is sent: no figures of the house in it. */
export const sentLines = (
  { deliveryAt, lines }: Pick<SupplierOrder, 'deliveryAt' | 'lines'>,
  { house }: Books,
): string[] => [
  `${house.name}: order for ${dateText(deliveryAt)} ${deliveryAt.slice(0, 4)}`,
  ...lines.map(({ item, containers, cases }) => {
    const many = (item.caseOf ?? 1) > 1 ? `${cases} × ${item.caseOf}` : String(containers);
    return `${many.padStart(7)}  ${item.code === undefined ? '' : `${item.code}  `}${item.name}, ${item.sizeText}`;
  }),
];
