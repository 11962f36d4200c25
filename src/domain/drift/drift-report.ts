// What drifts: items, the people who pour, and specs; worded as evidence about bottles.

import type { Item } from '../catalogue/item.ts';
import type { Books, ShiftBooks } from '../ledger/books.ts';
import { adjustFalseDiscovery } from '../standard/charts.ts';
import { normalTail } from '../standard/normal.ts';
import type { Drawer, PersonId, SpecId } from '../value/ids.ts';
import { valueAtCost } from '../value/money.ts';
import { againstOthers, between, fitAttribution, NOT_TOLD_APART, type Row, whiten } from './attribution.ts';
import {
  type DriftChart,
  deviationOf,
  driftChart,
  ENOUGH_COUNTS,
  type Stretch,
  stretchesOf,
  telescope,
} from './drift.ts';

export type ItemDrift = {
  readonly item: Item;
  readonly stretches: readonly Stretch[];
  readonly chart: DriftChart;
  /** Over all counts: missing as a share of what was poured, %, and its ± (k = 2). Null when nothing was poured. */
  readonly percent: number | null;
  readonly percentUncertainty: number | null;
  /** Since it began, for a drifting item. */
  readonly since: {
    readonly date: string;
    readonly perNight: number;
    readonly uncertainty: number;
    readonly percent: number | null;
    readonly costPerMonthMinor: number | null;
    /** The one night that brought most of it, when one did: a bottle gone rather than pours that run over. */
    readonly oneNight: { readonly date: string; readonly missing: number } | null;
  } | null;
  /** Benjamini–Hochberg q of the last night, one-sided; null when it was not counted then. */
  readonly lastNightQ: number | null;
};

export type PersonDrift = {
  readonly person: PersonId;
  readonly shifts: number;
  /** Against the mean of the others, % of what was poured, with ± (95 %). */
  readonly percent: number;
  readonly uncertainty: number;
  readonly state: 'not-enough-shifts' | 'not-told-apart' | 'like-the-others' | 'differs';
  readonly notToldApartFrom: readonly PersonId[];
  /** The bottles they poured most: missing of what was poured, %, on nights mostly theirs and on the others. */
  readonly evidence: readonly {
    readonly item: string;
    readonly own: number;
    readonly others: number;
    readonly nights: number;
  }[];
};

export type SpecDrift = {
  readonly spec: SpecId;
  readonly percent: number;
  readonly uncertainty: number;
  readonly items: readonly string[];
};

export type DriftReport = {
  readonly shifts: number;
  readonly items: readonly ItemDrift[];
  readonly people: readonly PersonDrift[];
  readonly specs: readonly SpecDrift[];
};

const NIGHTS_A_MONTH = 30;
/** Nobody is spoken of with fewer shared shifts, nor below a two-sided 99 % (our decision). */
const ENOUGH_SHIFTS = 10;
const NAMED_BELOW = 0.01;
const Z95 = 1.959963984540054;

/** Everything over the shifts given, oldest first. */
export function driftReport(books: Books, shifts: readonly ShiftBooks[]): DriftReport {
  const series = [...books.items.values()]
    .map((item) => ({ item, stretches: stretchesOf(shifts, item, books.house) }))
    .filter(({ stretches }) => stretches.length > 0);
  const lastNight = nightQs(series, shifts.at(-1)?.id ?? '');
  const items = series
    .map(({ item, stretches }) => itemDrift(item, stretches, lastNight.get(item.id) ?? null))
    .sort(byWeight);
  const flowing = series.filter(
    ({ item, stretches }) =>
      item.unit === 'ml' && item.count !== 'pieces' && stretches.some(({ poured }) => poured > 0),
  );
  return {
    shifts: shifts.length,
    items,
    people: peopleDrift(flowing, shifts.length),
    specs: specDrift(flowing, shifts.length),
  };
}

export type Series = { readonly item: Item; readonly stretches: readonly Stretch[] };

function nightQs(series: readonly Series[], shift: string): Map<string, number> {
  const night = series.flatMap(({ item, stretches }) => {
    const last = stretches.at(-1);
    return last?.shift === shift && deviationOf(last) > 0
      ? [{ id: item.id as string, p: normalTail(last.missing / deviationOf(last)) }]
      : [];
  });
  const q = adjustFalseDiscovery(night.map(({ p }) => p));
  return new Map(night.map(({ id }, index) => [id, q[index] as number]));
}

function itemDrift(item: Item, stretches: readonly Stretch[], lastNightQ: number | null): ItemDrift {
  const chart = driftChart(stretches);
  const whole = telescope(stretches);
  const percent = (part: number, poured: number): number | null =>
    poured === 0 ? null : (100 * part) / poured;
  const run = chart.onset === null ? [] : stretches.slice(chart.onset);
  const sum = telescope(run);
  const perNight = sum.nights === 0 ? 0 : sum.missing / sum.nights;
  return {
    item,
    stretches,
    chart,
    percent: percent(whole.missing, whole.poured),
    percentUncertainty: percent(whole.uncertainty, whole.poured),
    since:
      run[0] === undefined
        ? null
        : {
            date: run[0].date,
            perNight,
            oneNight: oneNightOf(run, sum.missing),
            uncertainty: sum.uncertainty / sum.nights,
            percent: percent(sum.missing, sum.poured),
            costPerMonthMinor:
              item.costMinor === null
                ? null
                : valueAtCost(Math.round(perNight * NIGHTS_A_MONTH), item.costMinor, item.size),
          },
    lastNightQ,
  };
}

const MOST_OF_IT = 0.7;

function oneNightOf(run: readonly Stretch[], missing: number): { date: string; missing: number } | null {
  const most = [...run].sort((a, b) => b.missing - a.missing)[0];
  return most !== undefined && most.missing > MOST_OF_IT * missing
    ? { date: most.date, missing: most.missing }
    : null;
}

/** Drifting ones first, by value and certainty; then the rest by how far their chart stands. */
function byWeight(a: ItemDrift, b: ItemDrift): number {
  return weightOf(b) - weightOf(a) || (a.item.name < b.item.name ? -1 : 1);
}

function weightOf({ chart, since }: ItemDrift): number {
  if (since === null) return (chart.cusum.at(-1) ?? 0) / chart.h / 1000;
  const certainty = since.uncertainty === 0 ? 4 : Math.min(4, since.perNight / since.uncertainty);
  return 1 + certainty * Math.max(1, since.costPerMonthMinor ?? 1);
}

const inMl = (value: number): number => value / 1000;

function rowsOf({ stretches }: Series, people: readonly PersonId[]): Row[] {
  return stretches.map((stretch) => ({
    missing: inMl(stretch.missing),
    by: people.map((name) => inMl(stretch.by.get(name) ?? 0)),
    fromVariance: stretch.fromVariance / 1e6,
    toVariance: stretch.toVariance / 1e6,
    ownVariance: stretch.ownVariance / 1e6,
    follows: stretch.follows,
  }));
}

/**
 * A bottle that began to drift is two bottles, before and after: its change must not be laid at the door of whoever worked
 * more after it.
 */
function splitAtOnset({ item, stretches }: Series): Series[] {
  const { onset } = driftChart(stretches);
  if (onset === null || onset === 0) return [{ item, stretches }];
  return [
    { item, stretches: stretches.slice(0, onset) },
    { item, stretches: stretches.slice(onset) },
  ];
}

export function peopleDrift(series: readonly Series[], shifts: number): PersonDrift[] {
  const names = [...new Set(series.flatMap(({ stretches }) => stretches.flatMap(({ by }) => [...by.keys()])))]
    .filter((name): name is PersonId => name !== '')
    .sort();
  if (names.length < 2) return [];
  const fit = fitAttribution(
    series.flatMap((each) => splitAtOnset(each)).map((each) => rowsOf(each, names)),
    names.length,
    shifts,
  );
  const worked = (name: PersonId): number =>
    new Set(
      series.flatMap(({ stretches }) =>
        stretches.filter(({ by }) => (by.get(name) ?? 0) > 0).map(({ shift }) => shift),
      ),
    ).size;
  return names.map((person, index) => {
    const contrast = againstOthers(fit, index);
    const same = names.filter(
      (_, other) => other !== index && between(fit, index, other).share > NOT_TOLD_APART,
    );
    const count = worked(person);
    return {
      person,
      shifts: count,
      percent: 100 * contrast.estimate,
      uncertainty: 100 * Z95 * contrast.deviation,
      state: stateOf(contrast, count),
      notToldApartFrom: same,
      evidence: evidenceOf(series, person),
    };
  });
}

const MOST_BOTTLES = 8;

function evidenceOf(series: readonly Series[], person: PersonId): PersonDrift['evidence'] {
  const share = (stretches: readonly Stretch[]): number => {
    const { missing, poured } = telescope(stretches);
    return poured === 0 ? 0 : (100 * missing) / poured;
  };
  return series
    .map(({ item, stretches }) => {
      const own = stretches.filter(({ by, poured }) => (by.get(person) ?? 0) > poured / 2);
      const others = stretches.filter((stretch) => !own.includes(stretch));
      const poured = own.reduce((sum, stretch) => sum + stretch.poured, 0);
      return { item: item.name, own: share(own), others: share(others), nights: own.length, poured };
    })
    .filter(({ nights }) => nights > 0)
    .sort((a, b) => b.poured - a.poured)
    .slice(0, MOST_BOTTLES)
    .map(({ poured: _, ...rest }) => rest);
}

function stateOf(
  contrast: { estimate: number; deviation: number; share: number },
  shifts: number,
): PersonDrift['state'] {
  if (contrast.share > NOT_TOLD_APART) return 'not-told-apart';
  if (shifts < ENOUGH_SHIFTS) return 'not-enough-shifts';
  const p = 2 * normalTail(Math.abs(contrast.estimate) / contrast.deviation);
  return p < NAMED_BELOW ? 'differs' : 'like-the-others';
}

type Effect = {
  readonly estimate: number;
  readonly deviation: number;
  readonly gain: number;
  readonly items: readonly string[];
};

/** One effect alone on whitened rows, shrunk like the others; the gain is in log likelihood. */
function effectOf(parts: readonly { item: string; y: readonly number[]; x: readonly number[] }[]): Effect {
  const prior = 1 / 0.05 ** 2;
  let [xy, xx] = [0, 0];
  const items: string[] = [];
  for (const { item, y, x } of parts) {
    const own = x.reduce((sum, value, index) => sum + value * (y[index] as number), 0);
    const size = x.reduce((sum, value) => sum + value * value, 0);
    if (size > 0 && own / (size + prior) > 0.02) items.push(item);
    xy += own;
    xx += size;
  }
  return {
    estimate: xy / (xx + prior),
    deviation: 1 / Math.sqrt(xx + prior),
    gain: xy ** 2 / (2 * (xx + prior)),
    items,
  };
}

/** A spec is named when it explains what is missing better than any one bottle does, over several items, and clearly. */
const CLEARLY_BETTER = 3;

export function specDrift(series: readonly Series[], shifts: number): SpecDrift[] {
  if (shifts < ENOUGH_COUNTS) return [];
  const white = series.map((each) => {
    const specs = [...new Set(each.stretches.flatMap(({ bySpec }) => [...bySpec.keys()]))];
    const rows = rowsOf(each, []).map((row, index) => ({
      ...row,
      by: specs.map((spec) => inMl(each.stretches[index]?.bySpec.get(spec) ?? 0)),
    }));
    return { item: each.item.id as string, specs, ...whiten(rows) };
  });
  const columns = (pick: (specs: readonly Drawer[], row: readonly number[]) => number) =>
    white.map(({ item, specs, x, y }) => ({ item, y, x: x.map((row) => pick(specs, row)) }));
  const bottles = white.map(({ item, x, y }) =>
    effectOf([{ item, y, x: x.map((row) => row.reduce((sum, value) => sum + value, 0)) }]),
  );
  const bestBottle = Math.max(0, ...bottles.map(({ gain }) => gain));
  const names = [...new Set(white.flatMap(({ specs }) => specs))].filter(
    (name): name is SpecId => name !== '',
  );
  return names
    .map((spec) => ({ spec, ...effectOf(columns((specs, row) => row[specs.indexOf(spec)] ?? 0)) }))
    .filter(
      ({ gain, items, estimate, deviation }) =>
        gain > bestBottle + CLEARLY_BETTER && items.length >= 2 && estimate > 3 * deviation,
    )
    .sort((a, b) => b.gain - a.gain)
    .slice(0, 1)
    .map(({ spec, estimate, deviation, items }) => ({
      spec,
      percent: 100 * estimate,
      uncertainty: 100 * Z95 * deviation,
      items,
    }));
}
