// The Drift room: what, and whose pours, move away from spec? Worst first; the marked row shows its chart, Enter its nights.

import { missingText } from '../../domain/catalogue/display.ts';
import { bareName } from '../../domain/catalogue/item.ts';
import { chartRows } from '../../domain/drift/chart-text.ts';
import type { DriftReport, ItemDrift, PersonDrift, SpecDrift } from '../../domain/drift/drift-report.ts';
import { driftSentence, otherCauses, personSentence, specSentence } from '../../domain/drift/drift-words.ts';
import { type Books, personName } from '../../domain/ledger/books.ts';
import { dateText } from '../../domain/value/clock-date.ts';
import { foldText } from '../../domain/value/text.ts';
import { type FilterState, fieldLine, filterErase, filterType, listKeys } from '../filter.ts';
import { amountText } from '../format.ts';
import { blank, fitText, type Line, line, piece, type Style, wrap } from '../parts/line.ts';
import { listLines, mark } from '../parts/list.ts';
import { type Binding, type Room, refuse, type Scene, type Size, stay } from '../room.ts';

export type DriftState = FilterState & { readonly evidence: boolean };

type Entry =
  | { readonly kind: 'item'; readonly name: string; readonly drift: ItemDrift }
  | { readonly kind: 'spec'; readonly name: string; readonly spec: SpecDrift }
  | { readonly kind: 'person'; readonly name: string; readonly person: PersonDrift };

/** Drifting items, then a spec, then the people in the order of their names (never of their figures), then the rest. */
function entriesOf(report: DriftReport | null, books: Books, query: string): Entry[] {
  if (report === null) return [];
  const items = report.items.map(
    (drift): Entry => ({ kind: 'item', name: bareName(drift.item.name), drift }),
  );
  const isDrifting = (entry: Entry): boolean =>
    entry.kind === 'item' &&
    (entry.drift.chart.state === 'drifting' || entry.drift.chart.state === 'not-told-apart');
  const specs = report.specs.map(
    (spec): Entry => ({ kind: 'spec', name: books.specs.get(spec.spec)?.name ?? spec.spec, spec }),
  );
  const people = report.people.map(
    (person): Entry => ({
      kind: 'person',
      name: personName(books, person.person) ?? person.person,
      person,
    }),
  );
  const all = [
    ...items.filter(isDrifting),
    ...specs,
    ...people,
    ...items.filter((entry) => !isDrifting(entry)),
  ];
  const wanted = foldText(query);
  return wanted === '' ? all : all.filter(({ name }) => foldText(name).includes(wanted));
}

const entries = (scene: Scene, state: DriftState): Entry[] =>
  entriesOf(scene.drift, scene.books, state.query);

const bindings: readonly Binding<DriftState>[] = [
  {
    id: 'evidence',
    keys: ['enter'],
    label: 'shows the nights behind the marked row, or its chart again',
    short: 'evidence',
    run: (scene, state) =>
      entries(scene, state)[state.cursor] === undefined
        ? refuse(state, 'Nothing is marked. Erase a letter or two.')
        : stay({ ...state, evidence: !state.evidence }),
  },
  ...listKeys<DriftState>((scene, state) => entries(scene, state).length, 16),
];

function view(scene: Scene, state: DriftState, size: Size): Line[] {
  const { drift, books } = scene;
  const rows = entries(scene, state);
  const field = fieldLine(state.query, 'type to find an item or a person', size.columns);
  if (drift === null || drift.items.length === 0)
    return [
      field,
      line('Nothing was counted twice yet. Count at each closing, and this room tells drift from noise.'),
    ];
  if (rows.length === 0) return [field, line('Nothing is called that. Erase a letter or two.')];
  const listRows = Math.max(3, Math.min(rows.length, Math.floor((size.rows - 3) / 3)));
  const nameWidth = Math.min(32, size.columns - 40);
  const list = listLines(rows, state.cursor, listRows, (entry, on) => entryLine(entry, on, nameWidth));
  const below = detailLines(books, rows[state.cursor], state.evidence, {
    columns: size.columns,
    rows: size.rows - 3 - list.length,
  });
  const names = drift.items.filter(({ chart }) => chart.state === 'drifting').length;
  const head = line(
    `${drift.shifts} shifts · ${names === 0 ? 'nothing drifts' : `${names} of ${drift.items.length} items drift`}`,
  );
  return [field, head, ...list, blank, ...below];
}

const states: Record<ItemDrift['chart']['state'], string> = {
  drifting: '‼ drifting',
  'not-told-apart': '! cannot be told apart',
  'one-night': 'one night',
  slip: 'steady, but for a slip',
  steady: 'steady',
  'not-enough-counts': 'not enough counts yet',
};
const personStates: Record<PersonDrift['state'], string> = {
  differs: 'bottles differ',
  'like-the-others': 'like the others',
  'not-told-apart': 'cannot be told apart',
  'not-enough-shifts': 'not enough shifts yet',
};

function entryLine(entry: Entry, on: boolean, nameWidth: number): Line {
  const name = `${mark(on)}${fitText(entry.name, nameWidth)} `;
  const said = (text: string, style: Style): Line =>
    on ? line(piece(name + text, 'chosen')) : line(name, piece(text, style));
  if (entry.kind === 'spec') return said('! its card is followed', 'warn');
  if (entry.kind === 'person') return said(`pours  ${personStates[entry.person.state]}`, 'plain');
  const { percent, percentUncertainty, chart } = entry.drift;
  const share =
    percent === null || percentUncertainty === null
      ? ''
      : `${percent.toFixed(1)} % ±${percentUncertainty.toFixed(1)}`;
  return said(
    `${fitText(share, 16, 'right')}  ${states[chart.state]}`,
    chart.state === 'drifting' ? 'bad' : 'plain',
  );
}

function detailLines(books: Books, entry: Entry | undefined, evidence: boolean, size: Size): Line[] {
  const text = (content: string): Line[] => wrap(content, size.columns).map((row) => line(row));
  if (entry === undefined) return [];
  if (entry.kind === 'person')
    return [...text(personSentence(entry.person, books)), blank, ...personLines(entry.person)].slice(
      0,
      size.rows,
    );
  if (entry.kind === 'spec') return text(specSentence(entry.spec, books));
  const said = text(driftSentence(entry.drift, books));
  const cause = entry.drift.chart.state === 'drifting' ? text(otherCauses) : [];
  const room = size.rows - said.length - cause.length - 1;
  const body = evidence
    ? nightLines(books, entry.drift, room)
    : chartRows(entry.drift.stretches, entry.drift.chart, {
        columns: Math.min(size.columns, 120),
        rows: Math.min(21, Math.max(5, room - 2)),
      }).map((row) => line(row));
  return [...said, ...body, ...cause];
}

/** The bottles they poured most, on nights mostly theirs and on the others: what the figure rests on. */
function personLines({ evidence }: PersonDrift): Line[] {
  if (evidence.length === 0) return [];
  const head = line(
    piece(
      `  ${fitText('missing of what was poured, %', 32)} ${fitText('own nights', 11, 'right')} ${fitText('others', 8, 'right')}`,
      'under',
    ),
  );
  return [
    head,
    ...evidence.map(({ item, own, others, nights }) =>
      line(
        `  ${fitText(bareName(item), 32)} ${fitText(`${own.toFixed(1)} (${nights})`, 11, 'right')} ${fitText(others.toFixed(1), 8, 'right')}`,
      ),
    ),
  ];
}

/** The last nights of one item: poured, missing with its ±, where the chart stands. */
function nightLines(books: Books, { item, stretches, chart }: ItemDrift, rows: number): Line[] {
  const head = line(
    piece(
      `  ${fitText('night', 12)} ${fitText('poured', 10, 'right')} ${fitText('missing or extra', 20, 'right')} ${fitText('sum', 6, 'right')} of ${chart.h}`,
      'under',
    ),
  );
  const shown = Math.max(1, rows - 1);
  const nights = stretches.slice(-shown).map((stretch, index) => {
    const at = Math.max(0, stretches.length - shown) + index;
    const missing = missingText(stretch.missing, 2 * (chart.deviations[at] ?? 0), item.unit, books.house);
    return line(
      `  ${fitText(dateText(stretch.date), 12)} ${fitText(amountText(stretch.poured, item.unit, books), 10, 'right')} ${fitText(missing, 20, 'right')} ${(chart.cusum[at] ?? 0).toFixed(1).padStart(6)}${at === chart.onset ? ' ← began' : ''}`,
    );
  });
  return [head, ...nights];
}

export const driftRoom: Room<DriftState> = {
  name: 'drift',
  title: 'Drift',
  answers: 'what, and whose pours, move away from spec?',
  start: { query: '', cursor: 0, evidence: false },
  bindings,
  type: filterType,
  erase: filterErase,
  back: (_, state) =>
    state.query === '' && !state.evidence ? null : stay({ ...state, query: '', cursor: 0, evidence: false }),
  shows: [{ type: 'load-drift' }],
  enter: (_, state) => stay({ ...state, cursor: 0 }),
  view,
};
