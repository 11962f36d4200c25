// The card of a supplier: its cells by the names of their columns, as a row of suppliers.csv and as lines in the Book.
import type { Catalogue } from '../catalogue/catalogue.ts';
import { type Supplier, supplierSchema, type Weekday, weekdays } from '../catalogue/supplier.ts';
import { type SupplierId, slugOf } from '../value/ids.ts';
import { issueText } from '../value/issue.ts';
import { formatMoney, parseMoney } from '../value/money.ts';
import { done, type Problem, type Result, refuseAll } from '../value/problem.ts';
import { firstUnsafe } from '../value/text.ts';
import { BadCell, type Cells } from './item-card.ts';

export const supplierColumns = [
  'id',
  'name',
  'order_days',
  'cut_off',
  'delivery_days',
  'lead_days',
  'minimum',
  'contact',
  'retired',
] as const;

/** A supplier that is only a name so far. */
export const newSupplier = (name: string): Supplier => ({
  id: slugOf(name) as SupplierId,
  name,
  orderDays: [],
  cutOff: null,
  deliveryDays: [],
  leadDays: null,
  minimumMinor: null,
  contact: '',
});

/** Refused by the first cell that can't be read. */
export function supplierOfCells(cells: Cells, { house }: Catalogue): Supplier {
  const cell = (name: (typeof supplierColumns)[number]): string => (cells.get(name) ?? '').trim();
  for (const [column, text] of cells) {
    const unsafe = firstUnsafe(text);
    if (unsafe !== null) throw new BadCell(`${column} holds the character ${unsafe}. Take it out.`);
  }
  const minimum = cell('minimum') === '' ? null : parseMoney(cell('minimum'), house.currency);
  if (minimum === null && cell('minimum') !== '')
    throw new BadCell(
      `minimum "${cell('minimum').slice(0, 30)}" is not an amount of ${house.currency}. Write it as 150.00.`,
    );
  const cutOff = cell('cut_off');
  if (cutOff !== '' && !/^([01]?\d|2[0-3]):[0-5]\d$/.test(cutOff))
    throw new BadCell(`cut_off "${cutOff.slice(0, 20)}" is no hour of the clock. Write it as 15:00.`);
  const lead = cell('lead_days');
  if (lead !== '' && !/^\d{1,2}$/.test(lead))
    throw new BadCell(`lead_days "${lead.slice(0, 20)}" is not a number of days. Write it as 2.`);
  const parsed = supplierSchema.safeParse({
    id: cell('id') === '' ? slugOf(cell('name')) : cell('id'),
    name: cell('name'),
    orderDays: daysOf(cell('order_days'), 'order_days'),
    cutOff: cutOff === '' ? null : cutOff.padStart(5, '0'),
    deliveryDays: daysOf(cell('delivery_days'), 'delivery_days'),
    leadDays: lead === '' ? null : Number(lead),
    minimumMinor: minimum,
    contact: cell('contact'),
    ...(/^(yes|true)$/i.test(cell('retired')) ? { retired: true } : {}),
  });
  if (parsed.success) return parsed.data;
  throw new BadCell(`${issueText(parsed.error.issues, 'supplier')}. Mend it and try again.`);
}

/** "mon|thu", "Monday, Thursday": in the order of the week, each once. */
function daysOf(text: string, column: string): Weekday[] {
  const words = text.split(/[|,;/\s]+/).filter((word) => word !== '');
  const days = words.map((word) => {
    const day = weekdays.find((one) => word.toLowerCase().startsWith(one));
    if (day === undefined)
      throw new BadCell(`${column} "${word.slice(0, 20)}" is no day. Write days as mon|thu.`);
    return day;
  });
  return weekdays.filter((day) => days.includes(day));
}

/** A supplier as the cells of its columns, in their order. */
export const supplierCells = (supplier: Supplier, { house }: Catalogue): string[] => [
  supplier.id,
  supplier.name,
  supplier.orderDays.join('|'),
  supplier.cutOff ?? '',
  supplier.deliveryDays.join('|'),
  supplier.leadDays === null ? '' : String(supplier.leadDays),
  supplier.minimumMinor === null ? '' : formatMoney(supplier.minimumMinor, house.currency),
  supplier.contact,
  supplier.retired === true ? 'yes' : '',
];

const isColumn = (name: string): boolean => (supplierColumns as readonly string[]).includes(name);
const problem = (line: number, message: string): Problem => ({
  code: 'bad-supplier',
  exit: 65,
  line,
  message,
});

/** Reads one supplier in lines; what is wrong comes with its line. `id` is kept when it is written anew. */
export function readSupplierLines(text: string, catalogue: Catalogue, id: string | null): Result<Supplier> {
  const cells = new Map<string, string>();
  const lines = new Map<string, number>();
  const problems = text.split('\n').flatMap((row, at): Problem[] => {
    if (row.trim() === '') return [];
    const [, name = '', value = ''] = /^\s*([a-z_]+)\s*:\s*(.*)$/i.exec(row) ?? [];
    const column = name.toLowerCase();
    if (!isColumn(column))
      return [
        problem(
          at + 1,
          `"${row.trim().slice(0, 30)}" is no line of a supplier. Known are ${supplierColumns.slice(1).join(', ')}.`,
        ),
      ];
    if (cells.has(column)) return [problem(at + 1, `${column} stands twice. Take one of the lines out.`)];
    cells.set(column, value);
    lines.set(column, at + 1);
    return [];
  });
  if (problems.length > 0) return refuseAll(problems);
  if (id !== null) cells.set('id', id);
  try {
    return done(supplierOfCells(cells, catalogue));
  } catch (error) {
    if (!(error instanceof BadCell)) throw error;
    const column = [...lines.keys()].find((name) => error.message.startsWith(name)) ?? '';
    return refuseAll([problem(lines.get(column) ?? 1, error.message)]);
  }
}

/** A supplier in lines, each of its columns once, to be filled in or mended. */
export const supplierLines = (supplier: Supplier, catalogue: Catalogue): string =>
  supplierCells(supplier, catalogue)
    .map((value, at) => ({ name: supplierColumns[at] ?? '', value }))
    .filter(({ name, value }) => name !== 'id' && (name !== 'retired' || value !== ''))
    .map(({ name, value }) => `${name}: ${value}`)
    .join('\n');

/** What is read of a supplier, a fact a line. */
export const supplierText = (supplier: Supplier, catalogue: Catalogue): string[] => {
  const { name, orderDays, cutOff, deliveryDays, leadDays, minimumMinor, contact } = supplier;
  const items = [...catalogue.items.values()].filter(
    (item) => item.supplier === supplier.id && item.retired !== true,
  );
  return [
    `${name} brings ${items.length} of what is stocked`,
    orderDays.length === 0
      ? ''
      : `order on ${orderDays.join(', ')}${cutOff === null ? '' : ` until ${cutOff}`}`,
    deliveryDays.length === 0 ? '' : `delivers on ${deliveryDays.join(', ')}`,
    leadDays === null ? '' : `${leadDays} days from order to delivery`,
    minimumMinor === null
      ? ''
      : `an order is worth at least ${formatMoney(minimumMinor, catalogue.house.currency)}`,
    contact,
    supplier.retired === true ? 'no longer asked' : '',
  ].filter((fact) => fact !== '');
};
