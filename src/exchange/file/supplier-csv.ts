// The suppliers file, in and out: one line a supplier, days as mon|thu, hours as 15:00.
import { BadCell } from '../../domain/card/item-card.ts';
import { supplierCells, supplierColumns, supplierOfCells } from '../../domain/card/supplier-card.ts';
import type { Supplier } from '../../domain/catalogue/supplier.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { done, type Problem, type Result, refuseAll } from '../../domain/value/problem.ts';
import { harmless } from '../../domain/value/text.ts';
import { readCsv, writeCsv } from './csv.ts';

/** Headings that no other file has. */
export const isSuppliersHeader = (header: readonly string[]): boolean =>
  header.includes('order_days') || header.includes('delivery_days');

/** Reads suppliers with the line each stands on; all problems of the file come at once. */
export function readSupplierRows(text: string, books: Books): Result<{ supplier: Supplier; line: number }[]> {
  const table = readCsv(text, supplierColumns, ['name']);
  if (!table.ok) return table;
  const problems: Problem[] = [];
  const rows: { supplier: Supplier; line: number }[] = [];
  for (const { line, cells } of table.value.rows) {
    try {
      const supplier = supplierOfCells(cells, books);
      if (rows.some((row) => row.supplier.id === supplier.id))
        throw new BadCell(`The id ${supplier.id} stands twice in the file. Take one out.`);
      rows.push({ supplier, line });
    } catch (error) {
      if (!(error instanceof BadCell)) throw error;
      problems.push({ code: 'bad-supplier', exit: 65, line, message: error.message });
    }
  }
  return problems.length > 0 ? refuseAll(problems) : done(rows);
}

/** All suppliers in the file's own format; reading it back gives equal ones. */
export const writeSuppliers = (books: Books): string =>
  writeCsv(
    supplierColumns,
    [...books.suppliers.values()].map((supplier) => supplierCells(harmless(supplier), books)),
  );
