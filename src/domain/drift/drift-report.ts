// What drifts: items, the people who pour, and cards; the figures behind the words.

import type { Item } from '../catalogue/item.ts';
import type { Books, ShiftBooks } from '../ledger/books.ts';
import { adjustFalseDiscovery } from '../standard/charts.ts';
import { normalTail } from '../standard/normal.ts';
import type { ItemId, PersonId, SpecId } from '../value/ids.ts';
import { valueAtCost } from '../value/money.ts';
import type { Contrast } from './claim/people.ts';
import {
  type DriftChart,
  ENOUGH_SHIFTS,
  type JudgedItem,
  type JudgedSeason,
  judgeSeason,
  TOO_WIDE,
} from './claim/season.ts';
import { type Settling, settlesItem, settlesPerson } from './claim/settle.ts';
import { type Stretch, stretchesOf, telescope } from './drift.ts';
import { type Series, wasUsed } from './fit/bottles.ts';
import type { Cause } from './fit/causes.ts';

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
  } | null;
  /** Benjamini–Hochberg q of the last night, one-sided; null when it was not counted then. */
  readonly lastNightQ: number | null;
  /** Benjamini–Hochberg q of its drift over all items; null when it does not drift. */
  readonly q: number | null;
  /** Counts that were likely slipped: what was read too much, in thousandths and in whole containers (0: not whole ones). */
  readonly slips: readonly { readonly date: string; readonly amount: number; readonly containers: number }[];
  /** Nights that stand apart by themselves: what left (or came) on them. */
  readonly nights: readonly { readonly date: string; readonly missing: number }[];
  /** A drift that ended: from this night on the sum began anew. */
  readonly endedOn: string | null;
  /** What else would explain it as well. */
  readonly rivals: readonly Cause[];
  readonly settle: Settling | null;
};

export type PersonDrift = {
  readonly person: PersonId;
  readonly shifts: number;
  /** Against the mean of those not in question (`against`), % of what was poured, with its ± (k = 2). */
  readonly percent: number;
  readonly uncertainty: number;
  readonly state: 'not-enough-shifts' | 'not-told-apart' | 'like-the-others' | 'differs';
  readonly notToldApartFrom: readonly PersonId[];
  readonly against: readonly PersonId[];
  /** When it is one group of items that differs: its share alone. */
  readonly group: { readonly kind: string; readonly percent: number; readonly uncertainty: number } | null;
  readonly settle: Settling | null;
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
  readonly items: readonly ItemId[];
  readonly rivals: readonly Cause[];
};

export type DriftReport = {
  readonly shifts: number;
  /** What goes missing whoever pours, % of what is poured, with its ± (k = 2); null when nobody is known to pour. */
  readonly house: { readonly percent: number; readonly uncertainty: number } | null;
  /** How the people are called in the causes. */
  readonly names: readonly PersonId[];
  readonly items: readonly ItemDrift[];
  readonly people: readonly PersonDrift[];
  readonly specs: readonly SpecDrift[];
};

const NIGHTS_A_MONTH = 30;

/** Everything over the shifts given, oldest first. */
export function driftReport(books: Books, shifts: readonly ShiftBooks[]): DriftReport {
  const series = [...books.items.values()]
    .map((item) => ({ item, stretches: stretchesOf(shifts, item, books.house) }))
    .filter(({ stretches }) => stretches.length > 0);
  return driftOf(series, shifts);
}

/** The same from stretches. What flows is fitted together; pieces and whole containers each by themselves. */
export function driftOf(series: readonly Series[], shifts: readonly ShiftBooks[]): DriftReport {
  const season = judgeSeason(series.filter(wasUsed), shifts);
  const rest = judgeSeason(
    series.filter((each) => !wasUsed(each)),
    shifts,
  );
  const judged = [...season.items, ...rest.items];
  const lastNight = nightQs(judged, shifts.at(-1)?.id ?? '');
  return {
    shifts: shifts.length,
    house: houseOf(season),
    names: season.people,
    items: judged.map((each) => itemDrift(each, lastNight.get(each.series.item.id) ?? null)).sort(byStanding),
    people: peopleDrift(season),
    specs: season.cards
      .filter(({ named }) => named)
      .map(({ spec, share, deviation, items, rivals }) => ({
        spec,
        percent: 100 * share,
        uncertainty: 200 * deviation,
        items,
        rivals,
      })),
  };
}

function nightQs(judged: readonly JudgedItem[], shift: string): Map<string, number> {
  const night = judged.flatMap(({ series: { item, stretches }, chart }) => {
    const last = stretches.at(-1);
    return last?.shift === shift ? [{ id: item.id as string, p: normalTail(chart.z.at(-1) ?? 0) }] : [];
  });
  const q = adjustFalseDiscovery(night.map(({ p }) => p));
  return new Map(night.map(({ id }, index) => [id, q[index] as number]));
}

/** What goes missing whoever pours: the mean of the people. */
function houseOf({ people, analysis: { fit } }: JudgedSeason): DriftReport['house'] {
  if (people.length === 0) return null;
  const weight = 1 / people.length;
  let [mean, variance] = [0, 0];
  people.forEach((_, a) => {
    mean += weight * (fit.effects[a] as number);
    people.forEach((__, b) => {
      variance += weight ** 2 * ((fit.covariance[a] as number[])[b] as number);
    });
  });
  return { percent: 100 * mean, uncertainty: 200 * Math.sqrt(variance) };
}

function itemDrift(judged: JudgedItem, lastNightQ: number | null): ItemDrift {
  const { series, chart, verdict } = judged;
  const { item, stretches } = series;
  const whole = telescope(widened(stretches, chart));
  const percent = (part: number, poured: number): number | null =>
    poured === 0 ? null : (100 * part) / poured;
  const enough = chart.state !== 'not-enough-counts';
  const dateOf = (stretch: number): string => (stretches[stretch] as Stretch).date;
  return {
    item,
    stretches,
    chart,
    percent: percent(whole.missing, whole.poured),
    percentUncertainty: percent(whole.uncertainty, whole.poured),
    since: sinceOf(judged),
    lastNightQ,
    q: enough ? (verdict.drift?.q ?? null) : null,
    slips: enough
      ? verdict.slips.map(({ stretch, amount, containers }) => ({
          date: dateOf(stretch),
          amount: 1000 * amount,
          containers,
        }))
      : [],
    nights: enough
      ? verdict.nights.map(({ stretch, amount }) => ({ date: dateOf(stretch), missing: 1000 * amount }))
      : [],
    endedOn: enough && verdict.ended !== null ? dateOf(verdict.ended) : null,
    rivals: verdict.rivals,
    settle: enough && chart.state !== 'steady' ? settlesItem(judged) : null,
  };
}

/** Stretches with the spread that the books show, so that sums over them have an honest ±. */
function widened(stretches: readonly Stretch[], { deviations }: DriftChart): Stretch[] {
  return stretches.map((stretch, index) => {
    const least = stretch.fromVariance + stretch.toVariance + stretch.ownVariance;
    const factor = least === 0 ? 1 : (deviations[index] as number) ** 2 / least;
    return {
      ...stretch,
      fromVariance: stretch.fromVariance * factor,
      toVariance: stretch.toVariance * factor,
      ownVariance: stretch.ownVariance * factor,
    };
  });
}

function sinceOf({ series: { item, stretches }, chart, verdict: { drift } }: JudgedItem): ItemDrift['since'] {
  const first = chart.onset === null ? undefined : stretches[chart.onset];
  if (drift === null || first === undefined || chart.onset === null) return null;
  const run = stretches.slice(chart.onset);
  const poured = run.reduce((sum, stretch) => sum + stretch.poured, 0) / run.length;
  const perNight = drift.share * poured;
  return {
    date: first.date,
    perNight,
    uncertainty: 2 * drift.deviation * poured,
    percent: 100 * drift.share,
    costPerMonthMinor:
      item.costMinor === null
        ? null
        : valueAtCost(Math.round(perNight * NIGHTS_A_MONTH), item.costMinor, item.size),
  };
}

/** Drifting ones first, by value and certainty; then what else stands out; then the rest by how far their chart stands. */
function byStanding(a: ItemDrift, b: ItemDrift): number {
  return standingOf(b) - standingOf(a) || (a.item.name < b.item.name ? -1 : 1);
}

function standingOf({ chart, since }: ItemDrift): number {
  if (since === null)
    return (
      (chart.state === 'one-night' || chart.state === 'slip' ? 0.5 : 0) +
      Math.min(1, (chart.cusum.at(-1) ?? 0) / chart.h) / 1000
    );
  const certainty = since.uncertainty === 0 ? 4 : Math.min(4, since.perNight / since.uncertainty);
  return 1 + certainty * Math.max(1, since.costPerMonthMinor ?? 1);
}

function peopleDrift(season: JudgedSeason): PersonDrift[] {
  const { people, worked, analysis, blurred, items } = season;
  const series = items.map(({ series: each }) => each);
  return analysis.contrasts.map((contrast, index) => {
    const same = people.filter((_, other) => other !== index && blurred(index, other));
    const group = contrast.group;
    return {
      person: people[index] as PersonId,
      shifts: worked[index] as number,
      percent: 100 * contrast.estimate,
      uncertainty: 200 * contrast.deviation,
      state: stateOf(contrast, worked[index] as number),
      notToldApartFrom: same,
      against: contrast.against.map((other) => people[other] as PersonId),
      group:
        group === null
          ? null
          : { kind: group.name, percent: 100 * group.estimate, uncertainty: 200 * group.deviation },
      settle: settlesPerson(index, season),
      evidence: evidenceOf(series, people[index] as PersonId),
    };
  });
}

function stateOf({ named, deviation }: Contrast, shifts: number): PersonDrift['state'] {
  if (named) return 'differs';
  if (shifts < ENOUGH_SHIFTS) return 'not-enough-shifts';
  return deviation > TOO_WIDE ? 'not-told-apart' : 'like-the-others';
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
