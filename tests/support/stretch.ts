// Stretches between two counts, made by hand: for figures that are worked out from them.

import type { CountMark, Period, Stock } from '../../src/domain/ledger/books.ts';
import { newStock } from '../../src/domain/ledger/folding.ts';
import { addFlows, type Flows, noFlows } from '../../src/domain/ledger/stock/flows.ts';
import { eventIdOf, itemIdOf } from './shelf.ts';

/** A count of so many ml on the so-many-eth of November, with the standard uncertainty of its reading in µl. */
export const mark = (nth: number, ml: number, deviation = 20_000): CountMark => ({
  event: eventIdOf(nth),
  at: `2026-11-${String(nth).padStart(2, '0')}T18:00:00.000Z`,
  by: null,
  shift: null,
  reading: String(ml),
  method: 'tenths',
  amount: ml * 1000,
  deviation,
  densityDeviation: 0,
});
export const flows = (more: Partial<Flows>): Flows => addFlows(noFlows, more);
export const period = (from: CountMark, to: CountMark, more: Partial<Flows>, place = 'bar'): Period => ({
  item: itemIdOf('gin'),
  place,
  from,
  to,
  flows: flows(more),
});
export const stock = (over: Partial<Stock>): Stock => ({ ...newStock(itemIdOf('gin'), 'bar'), ...over });
