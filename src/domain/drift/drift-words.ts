// Drift in words: evidence about bottles, never about a person's character; with every claim, what else it may be.

import { displayAmount } from '../catalogue/display.ts';
import { type Books, personName } from '../ledger/books.ts';
import { dateText } from '../value/clock-date.ts';
import { formatMoney } from '../value/money.ts';
import { ENOUGH_COUNTS } from './drift.ts';
import type { ItemDrift, PersonDrift, SpecDrift } from './drift-report.ts';

/** What else a drift may come from: said with every claim. */
export const otherCauses =
  'May also be: drinks not logged, a card that is wrong, a spout, a count, a delivery or move not entered.';

/** One item in a sentence. */
export function driftSentence(drift: ItemDrift, books: Books): string {
  const { item, chart, since, stretches } = drift;
  if (chart.state === 'not-enough-counts')
    return `${item.name}: ${stretches.length} of ${ENOUGH_COUNTS} counts, not enough yet`;
  if (since === null) return `${item.name}: steady over ${stretches.length} counts`;
  const amount = (value: number): string =>
    displayAmount(Math.round(value / 1000) * 1000, item.unit, books.house);
  const money =
    since.costPerMonthMinor === null
      ? ''
      : `, about ${formatMoney(since.costPerMonthMinor, books.house.currency)} ${books.house.currency} in thirty nights`;
  if (since.oneNight !== null) {
    return `${item.name}: ${amount(since.oneNight.missing)} went missing on one night, ${dateText(since.oneNight.date)}; little before or after`;
  }
  const percent = since.percent === null ? '' : ` (${since.percent.toFixed(0)} % above what was logged)`;
  return `${item.name}: ${amount(since.perNight)} a night missing ±${amount(since.uncertainty)}${percent} since ${dateText(since.date)}${money}`;
}

export function personSentence(person: PersonDrift, books: Books): string {
  const name = personName(books, person.person) ?? person.person;
  const figure = `${person.percent >= 0 ? '+' : '−'}${Math.abs(person.percent).toFixed(1)} points ±${person.uncertainty.toFixed(1)} against the others, over ${person.shifts} shifts`;
  if (person.state === 'differs') {
    const side = person.percent > 0 ? 'above' : 'below';
    const [low, high] = [
      Math.abs(person.percent) - person.uncertainty,
      Math.abs(person.percent) + person.uncertainty,
    ];
    return `Bottles poured mostly by ${name} run ${low.toFixed(0)} to ${high.toFixed(0)} % ${side} the others' (${figure}). ${otherCauses}`;
  }
  if (person.state === 'not-told-apart') return `${name}: cannot be told apart with this rota.`;
  if (person.state === 'not-enough-shifts')
    return `${name}: ${person.shifts} shifts, not enough yet to say anything.`;
  return `${name}: pours like the others (${figure}).`;
}

/** One spec in a sentence. */
export function specSentence({ spec, percent, uncertainty, items }: SpecDrift, books: Books): string {
  const name = books.specs.get(spec)?.name ?? spec;
  return `What is missing follows one card: ${name} takes ${percent.toFixed(0)} % ±${uncertainty.toFixed(0)} more than it says, seen in ${items.length} items. Look at the card, or at a free-poured part of it.`;
}
