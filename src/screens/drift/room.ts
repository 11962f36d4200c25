// The Drift room: what, and whose pours, move away from spec? Worst first; the marked row shows its chart, Enter its nights.

import { missingText, shownIn } from '../../domain/catalogue/display.ts';
import { bareName } from '../../domain/catalogue/item.ts';
import { chartRows } from '../../domain/drift/chart-text.ts';
import type { DriftReport, ItemDrift, PersonDrift, SpecDrift } from '../../domain/drift/drift-report.ts';
import {
  chartUnit,
  driftSentence,
  otherCauses,
  personSentence,
  shareText,
  specSentence,
} from '../../domain/drift/drift-words.ts';
import { type Books, personName } from '../../domain/ledger/books.ts';
import { dateText } from '../../domain/value/clock-date.ts';
import { foldText } from '../../domain/value/text.ts';
import { type FilterState, fieldLine, filterErase, filterType, listKeys } from '../filter.ts';
import { AMOUNT, amountText } from '../format.ts';
import { blank, fitText, type Line, line, piece, type Style, wrap } from '../parts/line.ts';
import { listLines, longestOf, named } from '../parts/list.ts';
import { type Binding, type Room, refuse, type Scene, type Size, stay } from '../room.ts';

export type DriftState = FilterState & {
  /** The list with what is said of the marked row; its chart; or the nights behind it. */
  readonly shows: 'list' | 'chart' | 'nights';
  /** How many nights are scrolled past. */
  readonly back: number;
};

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

const next = { list: 'chart', chart: 'nights', nights: 'list' } as const;
const PAGE = 8;

const bindings: readonly Binding<DriftState>[] = [
  {
    id: 'evidence',
    keys: ['enter'],
    label: 'shows the chart of the marked row, then the nights behind it, then the list again',
    short: 'chart, nights',
    run: (scene, state) =>
      entries(scene, state)[state.cursor] === undefined
        ? refuse(state, 'Nothing is marked. Erase a letter or two.')
        : stay({ ...state, shows: next[state.shows], back: 0 }),
  },
  ...listKeys<DriftState>((scene, state) => entries(scene, state).length, 16).map((binding) => ({
    ...binding,
    run: (scene: Scene, state: DriftState) => {
      const [key] = binding.keys;
      if (state.shows === 'nights' && (key === 'pgup' || key === 'pgdn'))
        return stay({ ...state, back: Math.max(0, state.back + (key === 'pgup' ? PAGE : -PAGE)) });
      return stay({ ...binding.run(scene, state).state, back: 0 });
    },
  })),
];

function view(scene: Scene, state: DriftState, size: Size): Line[] {
  const { drift } = scene;
  const rows = entries(scene, state);
  const field = fieldLine(state.query, 'type to find an item or a person', size.columns);
  if (drift === null || drift.items.length === 0)
    return [
      field,
      line('Nothing was counted twice yet. Count at each closing, and this room tells drift from noise.'),
    ];
  if (rows.length === 0) return [field, line('Nothing is called so. Erase a letter or two.')];
  const entry = rows[state.cursor];
  if (state.shows !== 'list')
    return [field, ...detailLines(scene, entry, state, { ...size, rows: size.rows - 1 })];
  const listRows = Math.max(3, Math.min(rows.length, Math.floor((size.rows - 4) / 3)));
  const nameWidth = Math.min(longestOf(rows.map(({ name }) => name)), size.columns - 46);
  const list = listLines(rows, state.cursor, listRows, (one, on) => entryLine(one, on, nameWidth));
  const head = line(piece(fitText(headText(drift, nameWidth), size.columns), 'under'));
  const rest = { columns: size.columns, rows: size.rows - 3 - list.length };
  return [field, head, ...list, blank, ...detailLines(scene, entry, state, rest)];
}

/** How many drift, and what the column says; where the names are short its own head is. */
function headText(drift: DriftReport, nameWidth: number): string {
  const names = drift.items.filter(({ chart }) => chart.state === 'drifting').length;
  const isTooEarly = drift.items.every(({ chart }) => chart.state === 'not-enough-counts');
  const found = isTooEarly
    ? 'too few counts yet'
    : names === 0
      ? 'nothing drifts'
      : `${names} of ${drift.items.length} drift`;
  const text = `${drift.shifts} shift${drift.shifts === 1 ? '' : 's'}, ${found}`;
  return text.length <= nameWidth
    ? `  ${fitText(text, nameWidth)} ${fitText('missing of poured', 18, 'right')}`
    : `  ${fitText(text, nameWidth + 10)} ${fitText('missing', 8, 'right')}`;
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
  const name = named(on, entry.name, nameWidth + 2);
  const said = (text: string, style: Style): Line => [...name, piece(' '), piece(text, style)];
  if (entry.kind === 'spec') return said('! its card is followed', 'warn');
  if (entry.kind === 'person') return said(`pours  ${personStates[entry.person.state]}`, 'plain');
  const { chart } = entry.drift;
  return said(
    `${fitText(shareText(entry.drift), 18, 'right')}  ${states[chart.state]}`,
    chart.state === 'drifting' ? 'bad' : 'plain',
  );
}

/** Fewer rows than this hold no chart that could be read. */
const LEAST_CHART = 9;

function detailLines(scene: Scene, entry: Entry | undefined, state: DriftState, size: Size): Line[] {
  const { books } = scene;
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
  if (state.shows === 'nights')
    return [line(piece(entry.name, 'strong')), ...nightLines(books, entry.drift, size.rows - 1, state.back)];
  // The chart has the screen to itself when it was asked for; beside the list it stands where there is room.
  const isAlone = state.shows === 'chart';
  const above = isAlone && size.rows < 2 * LEAST_CHART ? [line(piece(entry.name, 'strong'))] : said;
  const room = size.rows - above.length - (isAlone ? 0 : cause.length);
  if (room < LEAST_CHART)
    return [...said, ...cause, line('Enter shows the chart, again the nights.')].slice(0, size.rows);
  const chart = chartRows(
    {
      stretches: entry.drift.stretches,
      chart: entry.drift.chart,
      unit: chartUnit(entry.drift.item, books.house),
      isFine: scene.isFine,
    },
    { columns: Math.min(size.columns, 160), rows: Math.min(25, room) },
  );
  return [...above, ...chart.map((row) => line(row)), ...(isAlone ? [] : cause)];
}

/** The bottles they poured most, on nights mostly theirs and on the others: what the figure rests on. */
function personLines({ evidence, state }: PersonDrift): Line[] {
  // Figures of a person that can't be told from chance are shown to nobody.
  if (evidence.length === 0 || state === 'not-enough-shifts') return [];
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

/** The nights of one item: poured, missing with its ±, where the sum stands; the last ones, and PgUp goes back. */
function nightLines(books: Books, { item, stretches, chart }: ItemDrift, rows: number, back: number): Line[] {
  const head = line(
    piece(
      `  ${fitText('night', 12)} ${fitText('poured', AMOUNT, 'right')} ${fitText('missing or extra', 22, 'right')} ${fitText('sum', 6, 'right')} of ${chart.h.toFixed(1)}`,
      'under',
    ),
  );
  const room = Math.max(1, rows - 2);
  const end = Math.max(Math.min(room, stretches.length), stretches.length - back);
  const from = Math.max(0, end - room);
  const nights = stretches.slice(from, end).map((stretch, index) => {
    const at = from + index;
    const u = 2 * (chart.deviations[at] ?? 0);
    const missing = missingText(stretch.missing, u, shownIn(item), books.house);
    return line(
      `  ${fitText(dateText(stretch.date), 12)} ${fitText(amountText(stretch.poured, item, books), AMOUNT, 'right')} ${fitText(missing, 22, 'right')} ${(chart.cusum[at] ?? 0).toFixed(1).padStart(6)}${at === chart.onset ? ' ← began' : ''}`,
    );
  });
  const hidden = [
    from > 0 ? `↑ ${from} more, PgUp` : '',
    end < stretches.length ? `↓ ${stretches.length - end} more, PgDn` : '',
  ].filter((text) => text !== '');
  return [head, ...nights, ...(hidden.length === 0 ? [] : [line(`  ${hidden.join('   ')}`)])];
}

const driftStart: DriftState = { query: '', cursor: 0, shows: 'list', back: 0 };

export const driftRoom: Room<DriftState> = {
  name: 'drift',
  title: 'Drift',
  answers: 'what, and whose pours, move away from spec?',
  start: driftStart,
  bindings,
  type: filterType,
  erase: filterErase,
  back: (_, state) =>
    state.query === '' && state.shows === 'list' ? null : stay({ ...driftStart, cursor: state.cursor }),
  shows: [{ type: 'load-drift' }],
  enter: () => stay(driftStart),
  view,
};
