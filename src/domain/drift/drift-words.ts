// Drift in words: evidence about bottles, never about a person's character; with every claim, what else it may be.

import { displayAmount, shownIn } from '../catalogue/display.ts';
import type { House } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import { unitScale } from '../catalogue/units.ts';
import type { Books } from '../ledger/books.ts';
import { personName } from '../ledger/books.ts';
import { dateText } from '../value/clock-date.ts';
import type { ItemId, PersonId, SpecId } from '../value/ids.ts';
import { formatMoney } from '../value/money.ts';
import { ratioToNumber } from '../value/ratio.ts';
import type { ChartUnit } from './chart-text.ts';
import type { Settling } from './claim/settle.ts';
import { ENOUGH_COUNTS } from './drift.ts';
import type { ItemDrift, PersonDrift, SpecDrift } from './drift-report.ts';
import type { Cause } from './fit/causes.ts';

/** What else a drift may come from: said with every claim. */
export const otherCauses =
  'May also be: drinks not logged, a card that is wrong, a spout, a count, a delivery or move not entered.';

/** What goes missing as a share of what was poured: since it began for what drifts, else over all counts; with its ± (k = 2). */
export function shareOf({ since, percent, percentUncertainty }: ItemDrift): {
  readonly percent: number;
  readonly uncertainty: number;
} | null {
  if (since !== null && since.percent !== null && since.perNight !== 0)
    return {
      percent: since.percent,
      uncertainty: Math.abs((since.percent * since.uncertainty) / since.perNight),
    };
  return percent === null || percentUncertainty === null
    ? null
    : { percent, uncertainty: percentUncertainty };
}

/** "12.3 % ±0.6", the same wherever it stands. */
export function shareText(drift: ItemDrift): string {
  const share = shareOf(drift);
  return share === null ? '' : `${share.percent.toFixed(1)} % ±${share.uncertainty.toFixed(1)}`;
}

/** What the axis of an item's chart is in. */
export function chartUnit(item: Item, house: House): ChartUnit {
  const { unit, pieces } = shownIn(item);
  if (pieces) return { size: pieces.size, name: `${pieces.one}s` };
  if (unit === 'each') return { size: 1000, name: 'pieces' };
  const scale = unit === 'ml' ? unitScale(house.units, house) : null;
  return scale === null
    ? { size: 1000, name: unit }
    : { size: ratioToNumber(scale.perUnit), name: house.units };
}

/** One item in a sentence. */
export function driftSentence(drift: ItemDrift, books: Books): string {
  const { item, chart, since, stretches } = drift;
  const name = item.name;
  if (chart.state === 'not-enough-counts')
    return `${name}: ${stretches.length} of ${ENOUGH_COUNTS} counts, not enough yet`;
  if (chart.state === 'slip') return `${name}: ${slipWords(drift, books)}`;
  if (chart.state === 'one-night') return `${name}: ${nightWords(drift, books)}`;
  if (chart.state === 'not-told-apart')
    return `${name}: more goes missing than is logged${since === null ? '' : sinceWords(drift)}, and what behind it cannot be told apart: the bottle, or ${becauseWords(drift.rivals, books, [])}. ${settleWords(drift.settle, books)}`;
  if (since === null)
    return `${name}: steady over ${stretches.length} counts${shareText(drift) === '' ? '' : `, ${shareText(drift)} of what was poured missing`}${drift.endedOn === null ? '' : `; what drifted ended, counted anew since ${dateText(drift.endedOn)}`}`;
  const money =
    since.costPerMonthMinor === null
      ? ''
      : `, about ${formatMoney(since.costPerMonthMinor, books.house.currency)} ${books.house.currency} in thirty nights`;
  return `${name}: ${amountWords(since.perNight, drift, books)} a night missing ±${amountWords(since.uncertainty, drift, books)} (${shareText(drift)} of what was poured) since ${dateText(since.date)}${money}. ${settleWords(drift.settle, books)}`;
}

const amountWords = (value: number, { item }: ItemDrift, books: Books): string =>
  displayAmount(
    item.count === 'pieces' ? Math.abs(value) : Math.round(Math.abs(value) / 1000) * 1000,
    shownIn(item),
    books.house,
  );

const sinceWords = (drift: ItemDrift): string =>
  drift.since === null
    ? ''
    : ` (${shareText(drift)} of what was poured, since ${dateText(drift.since.date)})`;

/** A count that its neighbours contradict, or whole containers that appeared on the last one. */
function slipWords(drift: ItemDrift, books: Books): string {
  const slip = drift.slips.at(-1);
  const night = drift.nights.at(-1);
  if (slip === undefined || (night !== undefined && night.missing < 0 && night.date >= slip.date))
    return `${amountWords(night?.missing ?? 0, drift, books)} too much on the last count, ${dateText(night?.date ?? '')}; likely a slip, or a delivery not entered. Count it again`;
  const what =
    slip.containers === 0
      ? `${amountWords(slip.amount, drift, books)} too ${slip.amount > 0 ? 'much' : 'little'}`
      : `${Math.abs(slip.containers)} container${Math.abs(slip.containers) === 1 ? '' : 's'} too ${slip.amount > 0 ? 'many' : 'few'}`;
  return `the count of ${dateText(slip.date)} was likely a slip, ${what}: the next one took it back. Steady but for that`;
}

function nightWords(drift: ItemDrift, books: Books): string {
  const night = drift.nights.at(-1);
  if (night === undefined) return 'steady';
  return `${amountWords(night.missing, drift, books)} ${night.missing > 0 ? 'went missing' : 'was there too much'} on one night, ${dateText(night.date)}; little before or after. ${settleWords(drift.settle, books)}`;
}

/** What else fits, in a list. People are never named here: a cause that is somebody's is said as somebody's shifts. */
export function becauseWords(causes: readonly Cause[], books: Books, names: readonly PersonId[]): string {
  return [...new Set(causes.map((cause) => causeWords(cause, books, names)))].join(', or ');
}

function causeWords(cause: Cause, books: Books, names: readonly PersonId[]): string {
  const itemName = (item: ItemId): string => books.items.get(item)?.name ?? item;
  switch (cause.kind) {
    case 'card':
      return `the card ${cardName(cause.spec, books)}`;
    case 'measure':
      return `the card ${cardName(cause.spec, books)} in its ${itemName(cause.item)}`;
    case 'bottle':
      return `the bottle ${itemName(cause.item)}`;
    case 'night':
      return 'one night';
    case 'group':
      return `shifts of ${personName(books, names[cause.person] ?? null) ?? 'one person'}`;
  }
}

const cardName = (spec: SpecId, books: Books): string => books.specs.get(spec)?.name ?? spec;

const ways = { weigh: 'Weigh', measure: 'Measure in ml', count: 'Count' } as const;

/** The count that would settle it soonest. */
export function settleWords(settle: Settling | null, books: Books): string {
  if (settle === null) return '';
  const item = books.items.get(settle.item)?.name ?? settle.item;
  return `Settled soonest by this: ${ways[settle.how]} ${item} before and after ${dayNames[settle.weekday] ?? 'a busy night'}.`;
}

const dayNames: Readonly<Record<string, string>> = {
  Mon: 'Monday',
  Tue: 'Tuesday',
  Wed: 'Wednesday',
  Thu: 'Thursday',
  Fri: 'Friday',
  Sat: 'Saturday',
  Sun: 'Sunday',
};

const groupWords: Readonly<Record<string, string>> = { spirit: 'in spirits', other: 'in all but spirits' };

export function personSentence(person: PersonDrift, books: Books): string {
  const name = personName(books, person.person) ?? person.person;
  const figure = `${person.percent >= 0 ? '+' : '−'}${Math.abs(person.percent).toFixed(1)} points ±${person.uncertainty.toFixed(1)} against the others, over ${person.shifts} shifts`;
  const settle = settleWords(person.settle, books);
  if (person.state === 'differs') {
    const { group } = person;
    const inGroup =
      group !== null &&
      Math.abs(group.percent) / group.uncertainty > Math.abs(person.percent) / person.uncertainty;
    const said = inGroup ? group : person;
    const side = said.percent > 0 ? 'above' : 'below';
    const size = Math.abs(said.percent);
    return `Bottles poured mostly by ${name} run ${(size - said.uncertainty).toFixed(0)} to ${(size + said.uncertainty).toFixed(0)} % ${side} the others'${inGroup ? ` ${groupWords[group.kind] ?? ''}` : ''} (${figure}). ${otherCauses} ${settle}`.trimEnd();
  }
  if (person.state === 'not-told-apart')
    return `${name}: cannot be told apart ${person.notToldApartFrom.length > 0 ? 'with this rota' : 'yet'} (±${person.uncertainty.toFixed(0)} points). ${settle}`.trimEnd();
  if (person.state === 'not-enough-shifts')
    return `${name}: ${person.shifts} shifts, not enough yet to say anything.`;
  return `${name}: pours like the others (${figure}).`;
}

/** One spec in a sentence. */
export function specSentence({ spec, percent, uncertainty, items }: SpecDrift, books: Books): string {
  const [only] = items;
  const where =
    items.length === 1 && only !== undefined
      ? `in its ${books.items.get(only)?.name ?? only}`
      : `seen in ${items.length} items`;
  return `What is missing follows one card: ${cardName(spec, books)} takes ${percent.toFixed(0)} % ±${uncertainty.toFixed(0)} more than it says, ${where}. Look at the card, or at a free-poured part of it.`;
}
