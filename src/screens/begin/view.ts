// The picture of the Begin room: one question, what can be marked, and below it what is done and what else can be.
import { fieldLine } from '../filter.ts';
import { besides, blank, cut, fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import { listLines, longestOf, named } from '../parts/list.ts';
import type { Scene, Size } from '../room.ts';
import { unmade } from './lists.ts';
import { type BeginState, filterOf, listOf, NOTHING_CALLED, type Row, rowsOf, stepOf } from './model.ts';
import { offered, questions, type StepName, steps } from './steps.ts';

export function view(scene: Scene, state: BeginState, size: Size): Line[] {
  const step = stepOf(scene, state);
  const { asks } = questions[step];
  const rows = rowsOf(scene, state, step);
  const number = `${steps.indexOf(step) + 1} of ${steps.length}`;
  const head = [
    line(piece(cut(`${asks}  `, size.columns - 8), 'strong'), number),
    ...(step === 'count' ? [] : [fieldLine(state.text, hintOf(scene, state, step), size.columns)]),
    blank,
  ];
  const foot = footOf(scene, state, step).flatMap((text) => wrap(text, size.columns).map((one) => line(one)));
  const room = Math.max(3, size.rows - head.length - foot.length - 1);
  const body = listOf(step) === null ? plainRows(rows, state, size, room) : tickRows(rows, state, size, room);
  const none =
    filterOf(state) === '' ? 'No published one can be made of what is ticked yet.' : NOTHING_CALLED;
  const empty = listOf(step) !== null && rows.length === 1 ? [line(`  ${none}`)] : [];
  return [...head, ...body, ...empty, blank, ...foot];
}

const plainRows = (rows: readonly Row[], { cursor }: BeginState, { columns }: Size, room: number): Line[] =>
  listLines(rows, cursor, room, ({ says }, on) => named(on, says, columns));

function tickRows(rows: readonly Row[], { cursor }: BeginState, { columns }: Size, room: number): Line[] {
  const isWide = columns >= 76;
  const names = Math.min(34, longestOf(rows.map(({ says }) => says)) + 4);
  const facts = longestOf(rows.map(({ tick }) => tick?.facts ?? ''));
  const list = listLines(rows, cursor, room, ({ tick, says }, on) =>
    tick === null
      ? named(on, says, names + facts + 4)
      : [
          ...named(on, `${tick.ticked ? '✓' : '·'} ${says}`, names + 2),
          piece(`  ${fitText(tick.facts, facts)}`),
        ],
  );
  if (!isWide) return list;
  const left = names + facts + 7;
  const says = (rows[cursor]?.tick?.says ?? []).flatMap((text) =>
    wrap(text, columns - left - 2).map((one) => line(one)),
  );
  return besides(list, says.slice(0, room), left);
}

function hintOf(scene: Scene, { last }: BeginState, step: StepName): string {
  const list = listOf(step);
  if (list !== null)
    return last === null
      ? questions[step].hint
      : `Space ticks; 18.50: price${list === 'stock' ? ', =Quay gin: name' : ''} of the last`;
  const first = offered(step, scene);
  return first === '' ? questions[step].hint : `${questions[step].hint}; Enter alone: ${first}`;
}

/** Below the list: what is done, and what else can be. */
function footOf({ books }: Scene, state: BeginState, step: StepName): string[] {
  if (step === 'stock') {
    return [`${tickedText(books.items.values())} ^N writes what is not in the list.`];
  }
  if (step === 'cards') {
    const rest = unmade(books);
    const more = rest === 0 ? '' : ` ${rest} more published ones need things you don't stock; Esc goes back.`;
    return [`${tickedText(books.specs.values())}${more} ^N writes a drink of your own.`];
  }
  if (step === 'count') return ['Everything so far is kept. The Book changes it at any time.'];
  return state.at === 'name' || step === 'name'
    ? ['Every answer is kept at once; leave when you like, it goes on here. Esc goes a question back.']
    : ['Esc goes a question back.'];
}

const MOST_NAMED = 6;

/** How many, and the newest of them by name. */
function tickedText(
  things: Iterable<{ readonly name: string; readonly retired?: true | undefined }>,
): string {
  const names = [...things].filter(({ retired }) => retired !== true).map(({ name }) => name);
  if (names.length === 0) return 'None ticked yet.';
  const shown = names.slice(-MOST_NAMED).join(', ');
  return `${names.length} ticked: ${names.length > MOST_NAMED ? '… ' : ''}${shown}.`;
}
