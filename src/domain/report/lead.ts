// What the bar lead reads next morning: what went, what is missing and real, what to do about it, and the rest as a line.
import type { House } from '../catalogue/house.ts';
import { isBeyond, LARGEST_Q } from './looks.ts';
import { byWeight, matters } from './order.ts';
import type { Report, ReportItem } from './report.ts';
import { amountIn } from './words.ts';

export type Lead = {
  /** Sure, also after so many looks, and worth it; the dearest first. */
  readonly real: readonly ReportItem[];
  /** More was read than can be there. */
  readonly improbable: readonly ReportItem[];
  /** Beyond their ±, but few enough to be chance, or worth little. */
  readonly perhaps: readonly ReportItem[];
  readonly within: readonly ReportItem[];
  readonly notCounted: readonly ReportItem[];
  readonly firstCounted: readonly ReportItem[];
};

const isReal = (row: ReportItem, house: House): boolean =>
  !row.improbable && row.verdict === 'real' && (row.q ?? 1) <= LARGEST_Q && matters(row, house);

export function leadOf({ items }: Report, house: House): Lead {
  const rows = [...items].sort(byWeight(house));
  const counted = rows.filter((row) => row.missing !== null && !row.improbable);
  return {
    real: counted.filter((row) => isReal(row, house)),
    improbable: rows.filter(({ improbable }) => improbable),
    perhaps: counted.filter((row) => isBeyond(row) && !isReal(row, house)),
    within: counted.filter((row) => !isBeyond(row)),
    notCounted: rows.filter((row) => row.missing === null && !row.isFirstCount),
    firstCounted: rows.filter((row) => row.missing === null && row.isFirstCount),
  };
}

const items = (count: number): string => `${count} item${count === 1 ? '' : 's'}`;
const MOST_NAMES = 6;

export function namesOf(rows: readonly ReportItem[]): string {
  const names = rows.slice(0, MOST_NAMES).map(({ name }) => name);
  return rows.length > MOST_NAMES
    ? `${names.join(', ')} and ${rows.length - MOST_NAMES} more`
    : names.join(', ');
}

/** Everything that is not put forward, a line each. */
export function restLines({ perhaps, within, notCounted, firstCounted }: Lead): string[] {
  return [
    perhaps.length === 0 ? '' : `may be chance, or is worth little: ${namesOf(perhaps)}`,
    within.length === 0 ? '' : `${items(within.length)} within their ±`,
    notCounted.length === 0 ? '' : `not counted: ${namesOf(notCounted)}`,
    firstCounted.length === 0
      ? ''
      : `counted for the first time, nothing to compare with yet: ${namesOf(firstCounted)}`,
  ].filter((text) => text !== '');
}

const MOST_STEPS = 6;

/** What to do about it, the dearest first; an item a sentence. */
export function nextSteps(report: Report, lead: Lead, house: House): string[] {
  const steps = [...lead.improbable, ...lead.real].slice(0, MOST_STEPS).map((row) => stepFor(row, house));
  const unknown = (report.till ?? []).filter(({ match }) => match === 'unknown').length;
  if (unknown > 0)
    steps.push(
      `Say what ${unknown} name${unknown === 1 ? '' : 's'} of the till mean${unknown === 1 ? 's' : ''}.`,
    );
  if (lead.notCounted.length > 0 && lead.notCounted.length < report.items.length)
    steps.push(`Count what was not counted: ${namesOf(lead.notCounted)}.`);
  return steps.length === 0 && report.totals.counted > 0
    ? ['Nothing: what is missing is no more than reading bottles leaves open.']
    : steps;
}

/** What to do about one row. */
export function stepFor(row: ReportItem, house: House): string {
  const amount = (value: number): string => amountIn(row, value, house);
  const missing = row.missing ?? 0;
  if (row.improbable)
    return `Count ${row.name} again: ${amount(row.counted ?? 0)} is more than was ever there with what came in.`;
  if (row.slip !== null)
    return `Count ${row.name} first: two nights cancel, so one reading was likely wrong.`;
  if (missing < 0) return `Look for a delivery or a move of ${row.name} that was not entered.`;
  if ((row.unlogged ?? 0) >= missing / 2)
    return `Ask about the drinks that were sold and not tapped: they would have taken ${amount(row.unlogged ?? 0)} of ${row.name}.`;
  if (row.pieces !== null || row.unit === 'each')
    return `Look for ${row.name} that broke, was given away or was not tapped.`;
  return `Weigh ${row.name} before and after a night; ask for a drink not tapped, a spill not entered.`;
}
