// A batch as text and as JSON: what goes in, the water, what to fetch, what does not scale.

import { displayAmount } from '../../domain/catalogue/display.ts';
import type { Spec } from '../../domain/catalogue/spec.ts';
import type { Batch } from '../../domain/drink/scale.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { exactText, toUnits } from '../../domain/value/amount.ts';
import { clean } from '../../domain/value/text.ts';
import { layTable } from './table-text.ts';

export function batchJson(batch: Batch) {
  return {
    times: Number(batch.times.toFixed(4)),
    totalMl: Number(batch.totalMl.toFixed(1)),
    waterMl: Number(batch.waterMl.toFixed(1)),
    waterUncertaintyMl: Number(batch.waterUncertaintyMl.toFixed(1)),
    lines: batch.lines.map(({ item, amount, containers }) => ({
      item: item.id,
      unit: item.unit,
      amount: toUnits(amount),
      containers,
    })),
    warnings: batch.warnings,
  };
}

export function batchText(spec: Spec, batch: Batch, books: Books): string {
  const count = Number.isInteger(batch.times) ? String(batch.times) : batch.times.toFixed(1);
  const rows = batch.lines.map(({ item, amount, containers }) => [
    item.unit === 'each' ? exactText(amount) : displayAmount(amount, item.unit, books.house),
    item.name,
    `${containers} × ${item.sizeText}`,
  ]);
  if (batch.waterMl > 0)
    rows.push([
      displayAmount(Math.round(batch.waterMl * 1000), 'ml', books.house),
      'water',
      `±${Math.round(batch.waterUncertaintyMl)} ml`,
    ]);
  const lines = [
    `${spec.name}: ${count} drinks, ${displayAmount(Math.round(batch.totalMl * 1000), 'ml', books.house)} in all`,
    layTable(['>amount', 'item', 'to fetch'], rows),
    ...batch.warnings.map((warning) => `! ${warning}`),
    spec.method === '' ? '' : `method: ${spec.method}`,
  ];
  return lines
    .filter((text) => text !== '')
    .map((text) =>
      text
        .split('\n')
        .map((part) => clean(part))
        .join('\n'),
    )
    .join('\n');
}
