// What drifts, as text and as JSON: evidence about bottles, never about a person's character.

import type { DriftReport, ItemDrift, PersonDrift } from '../../domain/drift/drift-report.ts';
import {
  becauseWords,
  driftSentence,
  otherCauses,
  personSentence,
  shareText,
  specSentence,
} from '../../domain/drift/drift-words.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { personName } from '../../domain/ledger/books.ts';
import { dateText } from '../../domain/value/clock-date.ts';
import { clean } from '../../domain/value/text.ts';
import { layTable } from './table-text.ts';

const round = (value: number | null, decimals: number): number | null =>
  value === null ? null : Math.round(value * 10 ** decimals) / 10 ** decimals;

export function driftJson(report: DriftReport, books: Books) {
  return {
    shifts: report.shifts,
    house:
      report.house === null
        ? null
        : { percent: round(report.house.percent, 2), uncertainty: round(report.house.uncertainty, 2) },
    items: report.items.map((each) => itemJson(each, books)),
    people: report.people.map((each) => personJson(each, books)),
    specs: report.specs.map(({ rivals, ...each }) => ({
      ...each,
      percent: round(each.percent, 2),
      uncertainty: round(each.uncertainty, 2),
      because: [
        ...new Set([
          ...rivals.map((cause) => becauseWords([cause], books, report.names)),
          'a free-poured part of it',
        ]),
      ],
    })),
  };
}

export const personJson = (person: PersonDrift, books: Books) => ({
  ...person,
  percent: round(person.percent, 2),
  uncertainty: round(person.uncertainty, 2),
  group:
    person.group === null
      ? null
      : {
          kind: person.group.kind,
          percent: round(person.group.percent, 2),
          uncertainty: round(person.group.uncertainty, 2),
        },
  because:
    person.state === 'differs'
      ? otherCauses
      : person.state === 'not-told-apart'
        ? personSentence(person, books)
        : null,
});

function itemJson(drift: ItemDrift, books: Books) {
  const { item, stretches, chart, percent, percentUncertainty, since, lastNightQ } = drift;
  return {
    item: item.id,
    name: item.name,
    unit: item.unit,
    counts: stretches.length,
    state: chart.state,
    percent: round(percent, 2),
    uncertainty: round(percentUncertainty, 2),
    cusum: round(chart.cusum.at(-1) ?? 0, 3),
    limit: round(chart.h, 3),
    reading: chart.reading,
    since:
      since === null
        ? null
        : {
            date: since.date,
            perNight: round(since.perNight / 1000, 1),
            uncertainty: round(since.uncertainty / 1000, 1),
            percent: round(since.percent, 1),
            costPerMonthMinor: since.costPerMonthMinor,
          },
    lastNightQ: round(lastNightQ, 5),
    q: round(drift.q, 5),
    slips: drift.slips.map(({ date, amount, containers }) => ({
      date,
      amount: round(amount / 1000, 1),
      containers,
    })),
    nights: drift.nights.map(({ date, missing }) => ({ date, missing: round(missing / 1000, 1) })),
    endedOn: drift.endedOn,
    because: drift.rivals.length === 0 ? null : becauseWords(drift.rivals, books, []),
    settle: drift.settle,
    points: stretches.map((stretch, index) => ({
      date: stretch.date,
      missing: stretch.missing / 1000,
      poured: stretch.poured / 1000,
      z: round(chart.z[index] ?? 0, 3),
      cusum: round(chart.cusum[index] ?? 0, 3),
      score: round(chart.scores[index] ?? 0, 3),
      uncertainty: round((2 * (chart.deviations[index] ?? 0)) / 1000, 1),
      slip: drift.slips.some(({ date }) => date === stretch.date),
    })),
  };
}

export function driftText(report: DriftReport, books: Books): string {
  const drifting = report.items.filter(({ chart }) => chart.state === 'drifting');
  const short = report.items.filter(({ chart }) => chart.state === 'not-enough-counts').length;
  const named = report.people.filter(({ state }) => state === 'differs');
  const blurred = report.people.filter(({ state }) => state === 'not-told-apart');
  const lines = [
    `Over ${report.shifts} shifts, ${report.items.length} items: ${drifting.length === 0 ? 'nothing drifts.' : `${drifting.length} drift${drifting.length === 1 ? 's' : ''}.`}`,
    ...drifting.map((drift) => `  ‼ ${driftSentence(drift, books)}`),
    ...(drifting.length === 0 ? [] : [`  ${otherCauses}`]),
    ...report.items
      .filter(({ chart }) => chart.state === 'not-told-apart' || chart.state === 'one-night')
      .map((drift) => `  ${driftSentence(drift, books)}`),
    ...report.specs.map((spec) => `  ${specSentence(spec, books)}`),
    ...named.map((person) => `  ${personSentence(person, books)}`),
    ...(named.length === 0 && report.people.length > 0
      ? ["  Nobody's pours stand apart beyond chance."]
      : []),
    ...(blurred.length === 0
      ? []
      : [
          `  Cannot be told apart with this rota: ${blurred.map(({ person }) => personName(books, person)).join(', ')}.`,
        ]),
    ...slipsLine(report),
    ...standOut(report),
    ...(short === 0 ? [] : [`  Not enough counts yet: ${short} items.`]),
    '',
    layTable(
      ['item', '>counts', '>missing of poured', 'state'],
      report.items
        .slice(0, 20)
        .map((drift) => [
          drift.item.name,
          String(drift.stretches.length),
          shareText(drift),
          drift.chart.state.replaceAll('-', ' '),
        ]),
    ),
  ];
  return `${lines
    .map((text) =>
      text
        .split('\n')
        .map((part) => clean(part))
        .join('\n'),
    )
    .join('\n')}\n`;
}

/** Counts of the last weeks that their neighbours contradict, in one line: they are nobody's fault and nothing drifts by them. */
function slipsLine(report: DriftReport): string[] {
  const slipped = report.items.filter(({ chart }) => chart.state === 'slip');
  if (slipped.length === 0) return [];
  const words = slipped.map(
    ({ item, slips, nights }) => `${item.name} ${dateText((slips.at(-1) ?? nights.at(-1))?.date ?? '')}`,
  );
  return [`  Likely slips of a count, passed over: ${words.join(', ')}.`];
}

/** What stood out last night among all items looked at: false discoveries held to one in ten (Benjamini–Hochberg). */
function standOut(report: DriftReport): string[] {
  const names = report.items
    .filter(({ lastNightQ }) => lastNightQ !== null && lastNightQ <= 0.1)
    .map(({ item }) => item.name);
  return names.length === 0 ? [] : [`  Stood out on the last night alone: ${names.join(', ')}.`];
}
