// Changes of a card for one pour: less, more, another item, double, half.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { itemNames } from '../catalogue/item.ts';
import type { Measure, Spec } from '../catalogue/spec.ts';
import { amountOf, splitQuantity } from '../catalogue/units.ts';
import { findItem } from '../search/find.ts';
import { decimalText, storedQuantity } from '../value/number.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { multiplyRatio, type Ratio, ratio } from '../value/ratio.ts';
import { foldText } from '../value/text.ts';

/** The spec's measures with the changes applied, in the order given. */
export function applyChanges(
  catalogue: Catalogue,
  spec: Spec,
  changes: readonly string[],
): Result<readonly Measure[]> {
  let measures: readonly Measure[] = spec.measures;
  for (const change of changes) {
    const next = applyChange(catalogue, spec, measures, change.trim());
    if (!next.ok) return next;
    measures = next.value;
  }
  if (measures.length === 0)
    return refuse('empty-drink', `Nothing is left of ${spec.name}. Leave at least one measure in.`);
  return done(measures);
}

function applyChange(
  catalogue: Catalogue,
  spec: Spec,
  measures: readonly Measure[],
  change: string,
): Result<readonly Measure[]> {
  if (/^(double|half)$/i.test(change))
    return done(
      measures.map((measure) => timesMeasure(measure, /double/i.test(change) ? ratio(2) : ratio(1, 2))),
    );
  if (change.startsWith('-')) {
    const gone = findMeasure(catalogue, spec, measures, change.slice(1));
    return gone.ok ? done(measures.filter((measure) => measure !== gone.value)) : gone;
  }
  if (change.startsWith('+')) return addMeasure(catalogue, measures, change.slice(1));
  const arrow = change.indexOf('->');
  if (arrow > 0) return swapItem(catalogue, spec, measures, change.slice(0, arrow), change.slice(arrow + 2));
  const equals = change.indexOf('=');
  if (equals > 0) return resize(catalogue, spec, measures, change.slice(0, equals), change.slice(equals + 1));
  return refuse(
    'bad-change',
    `"${change.slice(0, 40)}" is not a change. Write gin=45ml, gin->rye, -egg white or +15ml lemon juice.`,
    64,
  );
}

/** A measure twice or half as large, exact. */
function timesMeasure(measure: Measure, times: Ratio): Measure {
  const quantity = storedQuantity(measure.quantity);
  if (quantity === null) return measure;
  const { num, den } = multiplyRatio(quantity, times);
  return { ...measure, quantity: quantityText(num, den) };
}

const SMALL_FRACTION = 16n;

/** Halves and thirds as a hand says them, other amounts as a decimal where it is an exact one. */
function quantityText(num: bigint, den: bigint): string {
  if (den === 1n) return String(num);
  if (den > SMALL_FRACTION && 1_000_000n % den === 0n) return decimalText(Number(num) / Number(den));
  const [whole, rest] = [num / den, num % den];
  return `${whole === 0n ? '' : `${whole} `}${rest}/${den}`;
}

function findMeasure(
  catalogue: Catalogue,
  spec: Spec,
  measures: readonly Measure[],
  text: string,
): Result<Measure> {
  const wanted = foldText(text);
  const named = measures.map((measure) => {
    const item = catalogue.items.get(measure.item);
    return { measure, names: item === undefined ? [measure.item] : itemNames(item).map(foldText) };
  });
  const exact = named.filter(({ names }) => names.includes(wanted));
  const part = named.filter(
    ({ names }) => wanted !== '' && names.some((name) => ` ${name} `.includes(` ${wanted} `)),
  );
  const found = exact.length > 0 ? exact : part;
  if (found.length === 1 && found[0] !== undefined) return done(found[0].measure);
  const items = measures.map((measure) => catalogue.items.get(measure.item)?.name ?? measure.item).join(', ');
  const why = found.length > 1 ? 'fits more than one measure' : 'is not a measure';
  return refuse(
    'unknown-measure',
    `"${text.trim().slice(0, 40)}" ${why} of ${spec.name}. Name one of: ${items}.`,
  );
}

function addMeasure(
  catalogue: Catalogue,
  measures: readonly Measure[],
  text: string,
): Result<readonly Measure[]> {
  const split = splitQuantity(text, catalogue.house);
  if (split === null)
    return refuse('bad-change', `"+${text.slice(0, 40)}" has no amount. Write +15ml lemon juice.`, 64);
  const item = findItem(catalogue, split.rest);
  if (!item.ok) return item;
  return done([...measures, { quantity: split.text, unit: split.unit, item: item.value.id }]);
}

function swapItem(
  catalogue: Catalogue,
  spec: Spec,
  measures: readonly Measure[],
  from: string,
  to: string,
): Result<readonly Measure[]> {
  const old = findMeasure(catalogue, spec, measures, from);
  if (!old.ok) return old;
  const item = findItem(catalogue, to);
  if (!item.ok) return item;
  return done(
    measures.map((measure) => (measure === old.value ? { ...measure, item: item.value.id } : measure)),
  );
}

function resize(
  catalogue: Catalogue,
  spec: Spec,
  measures: readonly Measure[],
  name: string,
  text: string,
): Result<readonly Measure[]> {
  const old = findMeasure(catalogue, spec, measures, name);
  if (!old.ok) return old;
  const split = splitQuantity(text, catalogue.house);
  if (split === null || split.rest !== '' || amountOf(split.quantity, split.unit, catalogue.house) === null) {
    return refuse('bad-change', `"${text.slice(0, 40)}" is not an amount. Write it as 45ml or 2 dash.`, 64);
  }
  const size = { quantity: split.text, unit: split.unit };
  return done(measures.map((measure) => (measure === old.value ? { ...measure, ...size } : measure)));
}
