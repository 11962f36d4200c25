// drift: what, and whose pours, move away from spec over the last shifts.
import { chartRows } from '../../domain/drift/chart-text.ts';
import { driftReport } from '../../domain/drift/drift-report.ts';
import { chartUnit, driftSentence, otherCauses, personSentence } from '../../domain/drift/drift-words.ts';
import { findItem, findPerson } from '../../domain/search/find.ts';
import { clean } from '../../domain/value/text.ts';
import { driftJson, driftText, personJson } from '../../exchange/print/drift-text.ts';
import { SEASON } from '../../store/reports.ts';
import { type Command, flagOf, refused, say, sayJson, usageProblem, withStore } from '../line/command.ts';

export const drift: Command = {
  name: 'drift',
  usage: ['drift [ITEM] [--by NAME] [--last N]'],
  says: 'what, and whose pours, move away from spec over several counts',
  examples: ['drift', 'drift "dry gin"', 'drift --by Ines'],
  flags: [
    { name: 'by', takes: 'NAME', says: "one person's own pours, for them to look at" },
    { name: 'last', takes: 'N', says: `how many shifts to look back; default ${SEASON}` },
  ],
  run: (context) => {
    const last = flagOf(context, 'last') ?? String(SEASON);
    if (!/^\d{1,4}$/.test(last) || Number(last) === 0)
      return usageProblem('--last takes a whole number from 1. Give one.');
    return withStore(context, (store) => {
      const books = store.books();
      const report = driftReport(books, store.shiftBooks(Number(last)));
      const name = flagOf(context, 'by');
      if (name !== undefined) {
        const person = findPerson(books, name);
        if (!person.ok) return refused(person.problems);
        const own = report.people.find((each) => each.person === person.value.id) ?? null;
        if (context.json) return sayJson(own === null ? null : personJson(own, books));
        return say(
          own === null
            ? `${clean(person.value.name)}: nothing to compare yet.`
            : clean(personSentence(own, books)),
        );
      }
      if (context.words.length === 0)
        return context.json ? sayJson(driftJson(report, books)) : say(driftText(report, books));
      const item = findItem(books, context.words.join(' '));
      if (!item.ok) return refused(item.problems);
      const one = report.items.find((each) => each.item.id === item.value.id);
      if (context.json)
        return sayJson(
          driftJson({ ...report, items: one === undefined ? [] : [one], people: [], specs: [] }, books)
            .items[0] ?? null,
        );
      if (one === undefined) return say(`${clean(item.value.name)}: not enough counts yet.`);
      const wish = { stretches: one.stretches, chart: one.chart, unit: chartUnit(one.item, books.house) };
      const rows = chartRows({ ...wish, isFine: false }, { columns: 78, rows: 18 });
      return say([clean(driftSentence(one, books)), '', ...rows, '', otherCauses].join('\n'));
    });
  },
};
