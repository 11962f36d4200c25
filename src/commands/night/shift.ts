// open, undo, log: the shift and its list of events.

import { intendOpenShift } from '../../domain/intent/intend-shift.ts';
import { type Books, personName } from '../../domain/ledger/books.ts';
import { describeEvent, replacedText } from '../../domain/ledger/describe.ts';
import type { Event, LoggedEvent } from '../../domain/ledger/event.ts';
import { clockText, wallTime } from '../../domain/value/clock-date.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { clean } from '../../domain/value/text.ts';
import { takeBackOne } from '../../store/last.ts';
import { type Command, flagOf, refused, say, sayJson, usageProblem, withStore } from '../line/command.ts';
import { recordWith } from '../line/record.ts';

export const open: Command = {
  name: 'open',
  usage: ['open [--by NAME] [--date DATE]'],
  says: "opens a shift; its business date follows the house's cut-off hour unless given",
  examples: ['open --by Ines'],
  flags: [
    { name: 'by', takes: 'NAME', says: 'who is pouring' },
    { name: 'date', takes: 'DATE', says: 'the business date, as 2026-11-20' },
  ],
  run: (context) => {
    if (context.words.length > 0)
      return usageProblem('open takes no words. Say who is pouring with --by NAME.');
    const date = flagOf(context, 'date');
    return recordWith(context, (books, moment, now) =>
      intendOpenShift(books, { ...moment, now, ...(date === undefined ? {} : { date }) }),
    );
  },
};

export const undo: Command = {
  name: 'undo',
  usage: ['undo [EVENT]'],
  says: 'takes back the last thing of the night (a pour, a count, a loss …), or the one named, as what was written into the book; nothing is erased',
  flags: [],
  run: (context) =>
    withStore(context, (store) => {
      const result = takeBackOne(store, context.words[0] ?? null, { at: context.at });
      if (!result.ok) return refused(result.problems);
      const { took, by } = result.value;
      if (context.json) return sayJson(by.length === 1 ? by[0] : by);
      const books = store.books();
      return say(
        took
          .map((event, at) => {
            const said = clean(describeEvent(event, books));
            return `Took back: ${said}. To restore it: ullage undo ${by[at]?.id ?? ''}`;
          })
          .join('\n'),
      );
    }),
};

export const log: Command = {
  name: 'log',
  usage: ['log [--last N]'],
  says: 'what was recorded, oldest first',
  flags: [{ name: 'last', takes: 'N', says: 'how many; default 20' }],
  run: (context) => {
    const last = flagOf(context, 'last') ?? '20';
    if (!/^\d{1,6}$/.test(last) || Number(last) === 0)
      return usageProblem('--last takes a whole number from 1. Give one.');
    return withStore(context, (store) => {
      const books = store.books();
      const rows = [...store.log(Number(last))].reverse();
      const targetOf = (id: EventId): Event | null => store.eventById(id)?.event ?? null;
      if (context.json) {
        return sayJson(
          rows.map(({ event, takenBack, replaces }) => ({
            id: event.id,
            kind: event.kind,
            at: event.at,
            by: personName(books, event.by),
            text: describeEvent(event, books, targetOf),
            takenBack,
            ...(replaces === undefined ? {} : { replaces }),
          })),
        );
      }
      if (rows.length === 0) return say('Nothing is recorded yet.');
      const where = (station: string): string =>
        store.sharesHouse && station !== store.station() ? `@${station} ` : '';
      return say(rows.map((row) => logLine(row, books, targetOf, where(row.event.station))).join('\n'));
    });
  },
};

function logLine(
  logged: LoggedEvent,
  books: Books,
  targetOf: (id: EventId) => Event | null,
  where: string,
): string {
  const { event, takenBack } = logged;
  const { zone } = books.house;
  const by = personName(books, event.by);
  const back = takenBack ? ' [taken back]' : '';
  return clean(
    `${wallTime(event.at, zone).date} ${clockText(event.at, zone)}  ${event.id}  ${where}${describeEvent(event, books, targetOf)}${replacedText(logged, books)}${by === null ? '' : ` (${by})`}${back}`,
  );
}
