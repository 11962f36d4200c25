// The Log room: what happened, newest first; take one thing back.

import { personName } from '../../domain/ledger/books.ts';
import { describeEvent, replacedText } from '../../domain/ledger/describe.ts';
import type { LoggedEvent } from '../../domain/ledger/event.ts';
import { clockText, wallTime } from '../../domain/value/clock-date.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { foldText } from '../../domain/value/text.ts';
import { type FilterState, fieldLine, filterRoom, listKeys } from '../filter.ts';
import { cut, fitText, type Line, line, piece, widthOf } from '../parts/line.ts';
import { listLines, longestOf, named } from '../parts/list.ts';
import { placeText } from '../parts/place.ts';
import { type Binding, type Room, refuse, type Scene, type Size, stay } from '../room.ts';

/** What a take-back names, when it is among the events that are shown. */
const inHand = memoBy(
  (log: readonly LoggedEvent[]) => [log],
  (log) => {
    const byId = new Map(log.map(({ event }) => [event.id, event]));
    return (id: EventId) => byId.get(id) ?? null;
  },
);

const logRows = memoBy(
  ({ log, books }: Scene, query: string) => [log, books, query],
  ({ log, books }, query): readonly LoggedEvent[] => {
    const wanted = foldText(query);
    if (wanted === '') return log;
    return log.filter(({ event }) =>
      foldText(`${describeEvent(event, books, inHand(log))} ${personName(books, event.by) ?? ''}`).includes(
        wanted,
      ),
    );
  },
);

const bindings: readonly Binding<FilterState>[] = [
  {
    id: 'take-back-one',
    keys: ['enter'],
    label: 'takes the marked event back, after a question',
    short: 'take back',
    run: (scene, state) => {
      const row = logRows(scene, state.query)[state.cursor];
      if (row === undefined) return refuse(state, 'Nothing is marked. Erase a letter or two.');
      if (row.takenBack) return refuse(state, 'That is taken back already.');
      const question = `Take back "${describeEvent(row.event, scene.books, inHand(scene.log))}"?`;
      return { state, dialog: { kind: 'sure', target: row.event.id, question } };
    },
  },
  ...listKeys<FilterState>((scene, state) => logRows(scene, state.query).length),
];

function view(scene: Scene, state: FilterState, size: Size): Line[] {
  const rows = logRows(scene, state.query);
  const byWidth = Math.min(20, longestOf([...scene.books.people.values()].map(({ name }) => name)));
  const body = listLines(rows, state.cursor, size.rows - 1, (row, on) =>
    rowLine(scene, row, on, { columns: size.columns, byWidth }),
  );
  const empty =
    scene.log.length === 0
      ? 'Nothing is recorded yet.'
      : 'Nothing like that among the last events. Erase a letter or two.';
  return [
    fieldLine(state.query, 'type to filter: a drink, a person, "lost"', size.columns),
    ...(rows.length === 0 ? [line(empty)] : body),
  ];
}

function rowLine(
  { books, log, house }: Scene,
  logged: LoggedEvent,
  on: boolean,
  { columns: width, byWidth }: { readonly columns: number; readonly byWidth: number },
): Line {
  const { event, takenBack } = logged;
  const { zone } = books.house;
  const said = `${placeText(house, event.station)}${describeEvent(event, books, inHand(log))}${replacedText(logged, books)}`;
  const when = `${wallTime(event.at, zone).date.slice(5)} ${clockText(event.at, zone)}`;
  const by = personName(books, event.by) ?? '';
  const text = `${when}  ${fitText(by, byWidth)} ${cut(said, width - 17 - byWidth - (takenBack ? 12 : 0))}`;
  return [...named(on, text, widthOf(text) + 2), piece(takenBack ? '  taken back' : '', 'warn')];
}

export const logRoom: Room<FilterState> = {
  name: 'log',
  title: 'Log',
  answers: 'what happened, in order?',
  ...filterRoom,
  bindings,
  shows: [{ type: 'load-log' }],
  speaksEmpty: true,
  enter: (_, state) => stay({ ...state, cursor: 0 }),
  view,
};
