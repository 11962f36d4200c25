// What drifts, as text and as JSON: evidence about bottles, never about a person's character.

import type { DriftReport, ItemDrift } from '../../domain/drift/drift-report.ts';
import { driftSentence, otherCauses, personSentence, specSentence } from '../../domain/drift/drift-words.ts';
import { type Books, personName } from '../../domain/ledger/books.ts';
import { clean } from '../../domain/value/text.ts';
import { layTable } from './table-text.ts';

const round = (value: number | null, decimals: number): number | null =>
  value === null ? null : Math.round(value * 10 ** decimals) / 10 ** decimals;

export function driftJson(report: DriftReport) {
  return {
    shifts: report.shifts,
    items: report.items.map(itemJson),
    people: report.people.map((each) => ({
      ...each,
      percent: round(each.percent, 2),
      uncertainty: round(each.uncertainty, 2),
    })),
    specs: report.specs.map((each) => ({
      ...each,
      percent: round(each.percent, 2),
      uncertainty: round(each.uncertainty, 2),
    })),
  };
}

function itemJson({ item, stretches, chart, percent, percentUncertainty, since, lastNightQ }: ItemDrift) {
  return {
    item: item.id,
    name: item.name,
    unit: item.unit,
    counts: stretches.length,
    state: chart.state,
    percent: round(percent, 2),
    uncertainty: round(percentUncertainty, 2),
    cusum: round(chart.cusum.at(-1) ?? 0, 3),
    limit: chart.h,
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
    points: stretches.map((stretch, index) => ({
      date: stretch.date,
      missing: stretch.missing / 1000,
      poured: stretch.poured / 1000,
      z: round(chart.z[index] ?? 0, 3),
      cusum: round(chart.cusum[index] ?? 0, 3),
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
    ...standOut(report),
    ...(short === 0 ? [] : [`  Not enough counts yet: ${short} items.`]),
    '',
    layTable(
      ['item', '>counts', '>missing of poured', '>±', 'state'],
      report.items
        .slice(0, 20)
        .map(({ item, stretches, chart, percent, percentUncertainty }) => [
          item.name,
          String(stretches.length),
          percent === null ? '' : `${percent.toFixed(1)} %`,
          percentUncertainty === null ? '' : percentUncertainty.toFixed(1),
          chart.state.replaceAll('-', ' '),
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

/** What stood out last night among all items looked at: false discoveries held to one in ten (Benjamini–Hochberg). */
function standOut(report: DriftReport): string[] {
  const names = report.items
    .filter(({ lastNightQ }) => lastNightQ !== null && lastNightQ <= 0.1)
    .map(({ item }) => item.name);
  return names.length === 0 ? [] : [`  Stood out on the last night alone: ${names.join(', ')}.`];
}
