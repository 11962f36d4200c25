// note, correct: what is said of a shift beside its figures, and what a sealed report would say with what became known.

import { intendCorrection, intendNote } from '../../domain/intent/intend-remark.ts';
import { type Correctable, correctable } from '../../domain/ledger/event.ts';
import { correctionText } from '../../domain/report/words.ts';
import { findAmount, findItem } from '../../domain/search/find.ts';
import { done } from '../../domain/value/problem.ts';
import { findShift, reportNamed, reportOfShift } from '../../store/reports.ts';
import {
  byOf,
  type Command,
  flagOf,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';

const by = { name: 'by', takes: 'NAME', says: 'who says so' };
const shiftFlag = {
  name: 'shift',
  takes: 'SHIFT',
  says: 'which shift, by its date or id; default the last one',
};

export const note: Command = {
  name: 'note',
  usage: ['note TEXT [--item ITEM] [--shift SHIFT] [--by NAME]'],
  says: 'writes a note on a shift, or on one item of it; it prints with the report',
  examples: ['note "ice machine out from nine"', 'note "two bottles lent out" --item "dry gin"'],
  flags: [{ name: 'item', takes: 'ITEM', says: 'what it is about' }, shiftFlag, by],
  run: (context) => {
    if (context.words.length === 0)
      return usageProblem('Say what is to be noted, as ullage note "ice machine out".');
    return withStore(context, (store) => {
      const shift = findShift(store, flagOf(context, 'shift'));
      if (!shift.ok) return refused(shift.problems);
      const recorded = store.record((books) => {
        const who = byOf(context, books);
        if (!who.ok) return who;
        const name = flagOf(context, 'item');
        const item = name === undefined ? done(null) : findItem(books, name);
        if (!item.ok) return item;
        const person = who.value ?? books.shift?.pouring ?? null;
        return intendNote(shift.value.id, { text: context.words.join(' '), item: item.value, by: person });
      }, context.at);
      if (!recorded.ok) return refused(recorded.problems);
      return context.json ? sayJson(recorded.value[0]) : say(`Noted on the shift of ${shift.value.date}.`);
    });
  },
};

export const correct: Command = {
  name: 'correct',
  usage: ['correct AMOUNT ITEM --what FIGURE --why TEXT [--shift SHIFT] [--by NAME]'],
  says: "corrects a figure of a sealed report by a new event; the report then shows both. Today's stock is not touched",
  examples: [
    'correct 700ml "dry gin" --what received --why "delivery note found" --shift 2026-11-20',
    'correct -50ml "dry gin" --what poured --why "tapped twice"',
  ],
  flags: [
    { name: 'what', takes: 'FIGURE', says: correctable.options.join(', ') },
    { name: 'why', takes: 'TEXT', says: 'how it came to be known' },
    shiftFlag,
    by,
  ],
  run: (context) => {
    const what = correctable.options.find((figure: Correctable) => figure === flagOf(context, 'what'));
    if (what === undefined)
      return usageProblem(`A correction needs --what: ${correctable.options.join(', ')}.`);
    return withStore(context, (store) => {
      const before = reportNamed(store, flagOf(context, 'shift'));
      if (!before.ok) return refused(before.problems);
      const recorded = store.record((books) => {
        const who = byOf(context, books);
        if (!who.ok) return who;
        const found = findAmount(books, context.words.join(' '), {
          example: '700ml "dry gin", or -2 "egg white"',
          signed: true,
        });
        if (!found.ok) return found;
        return intendCorrection(before.value.report, {
          ...found.value,
          what,
          why: flagOf(context, 'why') ?? '',
          by: who.value,
        });
      }, context.at);
      if (!recorded.ok) return refused(recorded.problems);
      const [event] = recorded.value;
      if (context.json) return sayJson(event);
      const { shift } = before.value.report;
      const after = reportOfShift(store, shift.id);
      const row = after?.report.items.find(
        ({ item }) => event?.kind === 'report-corrected' && item === event.item,
      );
      return say(
        row === undefined || after === null
          ? 'Corrected.'
          : `${row.name} on ${shift.date}: ${correctionText(row, after.books.house)}.`,
      );
    });
  },
};
