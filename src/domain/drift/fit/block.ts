// One item as equations: its columns, and which effect each of them serves, weighted by what its counts are worth.
import { type Band, dot, solveWith, type Vector } from './band.ts';
import { type Bottle, bandOf, type Scale } from './bottle.ts';
import { type Cause, columnOf, isLocal } from './causes.ts';
import type { Marks } from './slips.ts';

/** An item's own effects: its level, its share of each person, and causes that are its alone. */
export type OwnKind = 'level' | 'each' | 'bottle' | 'measure';

export type Input = { readonly bottle: Bottle; readonly scale: Scale; readonly marks: Marks };

/** An item's columns, their products with the inverse covariance, and which common effect each column serves. */
export type Block = {
  readonly input: Input;
  readonly band: Band;
  readonly columns: readonly Vector[];
  readonly solved: readonly Vector[];
  /** Products of columns with the inverse covariance, so that none is made twice. */
  readonly known: Map<Vector, Vector>;
  readonly gram: readonly (readonly number[])[];
  readonly right: readonly number[];
  readonly square: number;
  /** Pairs of common effect and column. */
  readonly common: readonly (readonly [effect: number, column: number])[];
  /** Columns of the item's own effects, with the kind of spread each is drawn from. */
  readonly own: readonly (readonly [column: number, spread: OwnKind])[];
};

export type Layout = {
  readonly people: number;
  readonly counters: readonly number[];
  readonly causes: readonly Cause[];
};

export const commonCauses = ({ causes }: Layout): readonly Cause[] =>
  causes.filter((cause) => !isLocal(cause));
export const commonCount = (layout: Layout): number =>
  layout.people + layout.counters.length + commonCauses(layout).length;

export function blockOf(input: Input, layout: Layout): Block {
  const { bottle, scale, marks } = input;
  const band = bandOf(bottle, scale, marks.widths);
  const { columns, common, own } = columnsOf(bottle, layout);
  const solved = columns.map((column) => solveWith(band, column));
  return {
    input,
    band,
    columns,
    solved,
    known: new Map(columns.map((column, index) => [column, solved[index] as Vector])),
    gram: columns.map((column) => solved.map((other) => dot(column, other))),
    right: solved.map((other) => dot(other, bottle.missing)),
    square: dot(bottle.missing, solveWith(band, bottle.missing)),
    common,
    own,
  };
}

/** People and all that was poured come first; a person's own column serves their share of a group and of the item too. */
function columnsOf(bottle: Bottle, layout: Layout) {
  const columns: Vector[] = [...bottle.by, bottle.poured];
  const shared: [number, number][] = bottle.by.map((_, person) => [person, person]);
  const own: [number, OwnKind][] = [
    [layout.people, 'level'],
    ...bottle.by.flatMap((by, person): [number, OwnKind][] =>
      by.some((value) => value !== 0) ? [[person, 'each']] : [],
    ),
  ];
  layout.counters.forEach((person, index) => {
    const column = counterColumn(bottle, person);
    if (column !== null) shared.push([layout.people + index, columns.push(column) - 1]);
  });
  commonCauses(layout).forEach((cause, index) => {
    const column = columnOf(cause, bottle);
    if (column === null) return;
    const at = cause.kind === 'group' ? cause.person : columns.push(column) - 1;
    shared.push([layout.people + layout.counters.length + index, at]);
  });
  for (const cause of layout.causes.filter(isLocal)) {
    const column = columnOf(cause, bottle);
    if (column !== null) own.push([columns.push(column) - 1, cause.kind as OwnKind]);
  }
  return { columns, common: shared, own };
}

/** A counter who reads too high by a share of a container: less is missing where they end, more where they begin. */
function counterColumn(bottle: Bottle, person: number): Vector | null {
  if (bottle.method !== 'tenths') return null;
  const column = bottle.missing.map(
    (_, t) =>
      bottle.size *
      (Number(bottle.counter[bottle.from[t] as number] === person) -
        Number(bottle.counter[bottle.to[t] as number] === person)),
  );
  return column.some((value) => value !== 0) ? column : null;
}
