// The report's figures computed a second time, from the lines of the events file alone: plain loops over counts and flows,
// floating point where the program has exact integers, and nothing imported from it. Written apart from the program's code.

type Line = {
  id: string;
  kind: string;
  at: string;
  station: string;
  seq: number;
  by: string | null;
  // biome-ignore lint/suspicious/noExplicitAny: the lines are read as they stand
  [more: string]: any;
};

export type Figures = {
  item: string;
  opening: number;
  received: number;
  poured: number;
  lost: number;
  moved: number;
  expected: number;
  counted: number | null;
  missing: number | null;
  uncertainty: number | null;
  verdict: string;
  cost: number | null;
};

export type Independent = {
  items: Figures[];
  drinks: Record<string, number>;
  sold: number;
  pouredCost: number;
  compCost: number;
};

const inOrder = (a: Line, b: Line): number =>
  a.at < b.at ? -1 : a.at > b.at ? 1 : a.station < b.station ? -1 : a.station > b.station ? 1 : a.seq - b.seq;

/** Events that count: not taken back, directly or through a take-back that was itself taken back. */
function living(lines: Line[]): Line[] {
  const backs = lines.filter(({ kind }) => kind === 'event-taken-back');
  const counts = (id: string): boolean => !backs.some((back) => back.target === id && counts(back.id));
  const targets = new Set(backs.map(({ target }) => target));
  return lines.filter(
    (line) => line.kind !== 'event-taken-back' && (!targets.has(line.id) || counts(line.id)),
  );
}

const halfUp = (value: number): number => Math.sign(value) * Math.floor(Math.abs(value) + 0.5 + 1e-9) || 0;

/** What a report from one business date to another has to say. */
export function independent(text: string, from: string, to: string): Independent {
  const lines = living(
    text
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => JSON.parse(line) as Line),
  ).sort(inOrder);
  const shifts = lines.filter(({ kind }) => kind === 'shift-opened');
  const wanted = shifts.filter(({ date }) => date >= from && date <= to);
  const ids = new Set(wanted.map(({ id }) => id));
  const seals = lines.filter(({ kind }) => kind === 'shift-sealed');
  const sealOf = (shift: string): string => seals.find(({ of }) => of === shift)?.at ?? '9999';
  const beforeFirst = shifts[shifts.indexOf(wanted[0] as Line) - 1];
  const start = beforeFirst === undefined ? '' : sealOf(beforeFirst.id);
  const end = sealOf((wanted.at(-1) as Line).id);
  const items = new Map<string, Line>();
  let deviation = 1500;
  for (const line of lines) {
    if (line.at > end) break;
    if (line.kind === 'item-written') items.set(line.item.id, line.item);
    if (line.kind === 'house-set' && line.key === 'pour-deviation') deviation = Number(line.value) * 1000;
    if (line.kind === 'delivery-received' && line.costMinor !== null)
      items.set(line.item, { ...(items.get(line.item) as Line), costMinor: line.costMinor });
  }
  const figures = [...items.values()].map((item) => figuresOf(item, lines, start, end, deviation));
  const pours = lines.filter(
    ({ kind, shift }) => (kind === 'drink-poured' || kind === 'measure-poured') && ids.has(shift),
  );
  const drinks: Record<string, number> = {};
  for (const { spec, count, kind } of pours)
    if (kind === 'drink-poured') drinks[spec] = (drinks[spec] ?? 0) + count;
  const costOf = (list: Line[]): number =>
    halfUp(
      list.flatMap(({ draws }) => draws).reduce((sum, { costMillis }) => sum + (costMillis ?? 0), 0) / 1000,
    );
  return {
    items: figures,
    drinks,
    sold: pours.reduce(
      (sum, { as, priceMinor, count }) => sum + (as === 'sale' ? (priceMinor ?? 0) * count : 0),
      0,
    ),
    pouredCost: costOf(pours),
    compCost: costOf(pours.filter(({ as }) => as === 'comp')),
  };
}

function figuresOf(item: Line, lines: Line[], start: string, end: string, deviation: number): Figures {
  const places = new Set<string>();
  for (const line of lines) {
    if (line.item === item.id && line.place !== undefined) places.add(line.place);
    if (line.kind === 'stock-moved' && line.item === item.id)
      for (const one of [line.from, line.to]) places.add(one);
    for (const draw of line.draws ?? []) if (draw.item === item.id) places.add(draw.place);
  }
  const sum = {
    opening: 0,
    received: 0,
    poured: 0,
    lost: 0,
    moved: 0,
    counted: 0,
    variance: 0,
    common: 0,
    judged: false,
  };
  for (const place of places) addPlace(sum, item, lines, place, { start, end, deviation });
  const expected = sum.opening + sum.received + sum.moved - sum.poured - sum.lost;
  const missing = expected - sum.counted;
  const uncertainty = 2 * Math.sqrt(sum.variance + sum.common ** 2);
  const verdict =
    Math.abs(missing) <= uncertainty
      ? 'within-count-error'
      : Math.abs(missing) <= 2 * uncertainty
        ? 'likely'
        : 'real';
  const units = (value: number): number => value / 1000;
  return {
    item: item.id,
    opening: units(sum.opening),
    received: units(sum.received),
    poured: units(sum.poured),
    lost: units(sum.lost),
    moved: units(sum.moved),
    expected: units(expected),
    counted: sum.judged ? units(sum.counted) : null,
    missing: sum.judged ? units(missing) : null,
    uncertainty: sum.judged
      ? item.unit === 'each'
        ? Math.round(uncertainty) / 1000
        : Math.round(uncertainty / 100) / 10
      : null,
    verdict: sum.judged ? verdict : 'not-counted',
    cost: sum.judged && item.costMinor !== null ? halfUp((missing * item.costMinor) / item.size) : null,
  };
}

type Sum = {
  opening: number;
  received: number;
  poured: number;
  lost: number;
  moved: number;
  counted: number;
  variance: number;
  common: number;
  judged: boolean;
};

/** From the last count before the stretch (or the first in it) to the last count in it, at one place. */
function addPlace(
  sum: Sum,
  item: Line,
  lines: Line[],
  place: string,
  bounds: { start: string; end: string; deviation: number },
): void {
  const counts = lines.filter(
    (line) =>
      line.kind === 'stock-counted' && line.item === item.id && line.place === place && line.at <= bounds.end,
  );
  // A second look replaces the reading before it.
  const standing = counts.filter((_, index) => counts[index + 1]?.again !== true);
  const before = standing.filter(({ at }) => at <= bounds.start).at(-1) ?? standing[0];
  const last = standing.at(-1);
  if (before === undefined || last === undefined || before === last) return;
  sum.judged = true;
  sum.opening += before.amount;
  sum.counted += last.amount;
  sum.variance += before.deviation ** 2 + last.deviation ** 2;
  sum.common += before.densityDeviation - last.densityDeviation;
  let isInParts = item.kind === 'herb';
  for (const line of lines) {
    if (inOrder(line, before) <= 0 || inOrder(line, last) >= 0) continue;
    if (line.kind === 'delivery-received' && line.item === item.id && line.place === place)
      sum.received += line.amount;
    if (line.kind === 'stock-lost' && line.item === item.id && line.place === place) sum.lost += line.amount;
    if (line.kind === 'stock-moved' && line.item === item.id)
      sum.moved += (line.to === place ? line.amount : 0) - (line.from === place ? line.amount : 0);
    for (const draw of line.draws ?? []) {
      if (draw.item !== item.id || draw.place !== place) continue;
      sum.poured += draw.amount;
      if (draw.amount % (item.unit === 'each' ? 1000 : item.size) !== 0) isInParts = true;
      if (item.unit === 'ml' && item.count !== 'pieces') sum.variance += line.count * bounds.deviation ** 2;
    }
  }
  // One bunch is begun, and counted as one or as none: to the nearest whole, rectangular.
  if (isInParts && (item.unit === 'each' || item.count === 'pieces'))
    for (const { deviation } of [before, last])
      if (deviation === 0) sum.variance += (item.unit === 'each' ? 1000 : item.size) ** 2 / 12;
}
