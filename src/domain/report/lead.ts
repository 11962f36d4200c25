// What the bar lead reads next morning: what went, what is missing and real, what to do about it, and the rest as a line.

import type { House } from '../catalogue/house.ts';
import type { Verdict } from '../count/variance.ts';
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

/** A row that was put right after the seal is judged as it stands since; what it said stays beside it. */
const standsAs = (row: ReportItem): Verdict => row.corrected?.verdict ?? row.verdict;

const isReal = (row: ReportItem, house: House): boolean =>
  !row.improbable && standsAs(row) === 'real' && (row.q ?? 1) <= LARGEST_Q && matters(row, house);

const isOpen = (row: ReportItem): boolean =>
  row.corrected === null ? isBeyond(row) : standsAs(row) !== 'within-count-error';

export function leadOf({ items }: Report, house: House): Lead {
  const rows = [...items].sort(byWeight(house));
  const counted = rows.filter((row) => row.missing !== null && !row.improbable);
  return {
    real: counted.filter((row) => isReal(row, house)),
    improbable: rows.filter(({ improbable }) => improbable),
    perhaps: counted.filter((row) => isOpen(row) && !isReal(row, house)),
    within: counted.filter((row) => !isOpen(row)),
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
    ? [
        report.items.some(({ verdict }) => verdict === 'likely')
          ? 'Nothing that must be done: what is only likely wants a second night before it is more.'
          : 'Nothing: what is missing is no more than reading bottles leaves open.',
      ]
    : steps;
}

/** Nearer to a whole container than this share of one, it is a container and no pouring (our decision). */
const NEAR_WHOLE = 0.15;

/** "1 bottle", "2 bottles", when what is missing or extra is so many whole containers; null when it is not, or can't be told. */
function wholeOnes(row: ReportItem): string | null {
  const off = Math.abs(row.missing ?? 0);
  if (row.pieces !== null || row.unit !== 'ml' || (row.uncertainty ?? 0) > row.size / 2) return null;
  const many = Math.round(off / row.size);
  if (many === 0 || Math.abs(off - many * row.size) > NEAR_WHOLE * row.size) return null;
  return `${many} bottle${many === 1 ? '' : 's'}`;
}

/** What to do about one row. */
export function stepFor(row: ReportItem, house: House): string {
  const amount = (value: number): string => amountIn(row, value, house);
  const missing = row.missing ?? 0;
  if (row.improbable)
    return `Count ${row.name} again: ${amount(row.counted ?? 0)} is more than was ever there with what came in.`;
  if (row.slip !== null)
    return `Count ${row.name} first: two nights cancel, so one reading was likely wrong.`;
  const whole = wholeOnes(row);
  if (whole !== null)
    return missing < 0
      ? `About ${whole} of ${row.name} more than the books have: look for a delivery or a move that was not entered.`
      : `About ${whole} of ${row.name} gone whole: look for a delivery entered twice, a move not entered, one that broke.`;
  if (missing < 0) return `Look for a delivery or a move of ${row.name} that was not entered.`;
  if ((row.unlogged ?? 0) >= missing / 2)
    return `Ask about the drinks that were sold and not tapped: they would have taken ${amount(row.unlogged ?? 0)} of ${row.name}.`;
  if (row.pieces !== null || row.unit === 'each')
    return `Look for ${row.name} that broke, was given away or was not tapped.`;
  return `Weigh ${row.name} before and after a night; ask for a drink not tapped, a spill not entered.`;
}
