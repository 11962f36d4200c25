// close, report: the closing report of the open shift, of any shift, sealed or not.

import type { Books } from '../domain/books.ts';
import { isOpen } from '../domain/books.ts';
import { isDate } from '../domain/clock-date.ts';
import { driftReport } from '../domain/drift-report.ts';
import { intendSeal } from '../domain/intend-house.ts';
import { done, type Result, refuse } from '../domain/problem.ts';
import { closingReport, type Report } from '../domain/report.ts';
import { periodReport } from '../domain/report-period.ts';
import { clean } from '../domain/text.ts';
import { reportCsv } from '../exchange/report-csv.ts';
import { reportHtml } from '../exchange/report-html.ts';
import { reportText } from '../exchange/report-text.ts';
import type { Store } from '../store/store.ts';
import {
  byOf,
  type Command,
  type Context,
  flagOf,
  hasFlag,
  momentOf,
  type Outcome,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from './command.ts';
import { SEASON } from './drift.ts';

const files = [
  { name: 'html', takes: 'FILE', says: 'writes the report as one web page' },
  { name: 'csv', takes: 'FILE', says: 'writes the report as CSV' },
];

export const close: Command = {
  name: 'close',
  usage: ['close [--seal] [--by NAME] [--html FILE] [--csv FILE]'],
  says: 'the closing report of the open shift; --seal closes it for good',
  flags: [
    { name: 'seal', says: 'closes the shift: later corrections are new events' },
    { name: 'by', takes: 'NAME', says: 'who seals it' },
    ...files,
  ],
  run: (context) =>
    withStore(context, (store) => {
      if (!isOpen(store.books().shift))
        return refused([
          {
            code: 'no-shift',
            exit: 65,
            message: 'No shift is open. See the last one with ullage report, or open one with ullage open.',
          },
        ]);
      if (hasFlag(context, 'seal')) {
        const sealed = seal(context, store);
        if (!sealed.ok) return refused(sealed.problems);
      }
      return show(context, store, store.books());
    }),
};

function seal(context: Context, store: Store): Result<unknown> {
  const at = momentOf(context);
  if (!at.ok) return at;
  return store.record((books) => {
    const by = byOf(context, books);
    if (!by.ok) return by;
    const last = books.last;
    if (at.value !== undefined && last !== null && at.value < last.at) {
      return refuse(
        'seal-too-early',
        'Something was recorded after that moment. Seal at a later --at, or leave it out for now.',
      );
    }
    return intendSeal(books, { by: by.value, ...(at.value === undefined ? {} : { at: at.value }) });
  });
}

/** The report over the shifts from one business date to another. */
function stretch(context: Context, store: Store): Outcome {
  const from = flagOf(context, 'from') ?? '0001-01-01';
  const to = flagOf(context, 'to') ?? '9999-12-31';
  if (!isDate(from) || !isDate(to) || context.words.length > 0)
    return usageProblem(
      '--from and --to take dates, and no shift is named beside them. Write them as 2026-11-20.',
    );
  const books = store
    .shifts()
    .filter(({ date }) => date >= from && date <= to)
    .flatMap(({ id }) => store.booksOfShift(id) ?? []);
  const [first, last] = [books[0]?.shift?.date, books.at(-1)?.shift?.date];
  const report = first === undefined || last === undefined ? null : periodReport(books, first, last);
  const at = books.at(-1);
  if (report === null || at === undefined)
    return refused([
      {
        code: 'unknown-shift',
        exit: 65,
        message: 'No shift lies between these dates. Run ullage log to see when there were some.',
      },
    ]);
  return deliver(context, store, report, at);
}

/** Prints a report and writes the files asked for; nothing is printed when a file can't be written. */
function show(context: Context, store: Store, books: Books): Outcome {
  const report = closingReport(books);
  if (report === null)
    return refused([
      { code: 'no-shift', exit: 65, message: 'No shift was ever opened. Open one with ullage open.' },
    ]);
  return deliver(context, store, report, books);
}

function deliver(context: Context, store: Store, report: Report, books: Books): Outcome {
  const written = writeFiles(context, store, report, books);
  if (!written.ok) return refused(written.problems);
  return context.json ? sayJson(report) : say(reportText(report, books));
}

function writeFiles(context: Context, store: Store, report: Report, books: Books): Result<null> {
  const wanted = [
    [flagOf(context, 'html'), () => reportHtml(report, books, driftReport(books, store.shiftBooks(SEASON)))],
    [flagOf(context, 'csv'), () => reportCsv(report)],
  ] as const;
  for (const [file, text] of wanted) {
    if (file === undefined) continue;
    const written = context.world.writeFile(file, text());
    if (!written.ok) return written;
  }
  return done(null);
}

export const report: Command = {
  name: 'report',
  usage: ['report [SHIFT | --from DATE --to DATE] [--html FILE] [--csv FILE]'],
  says: 'the report of any shift, by its date or id, or over a stretch of dates; the last shift when none is named',
  examples: ['report 2026-11-20 --json', 'report --from 2026-11-01 --to 2026-11-30'],
  flags: [
    { name: 'from', takes: 'DATE', says: 'first business date of a stretch' },
    { name: 'to', takes: 'DATE', says: 'last business date of it' },
    ...files,
  ],
  run: (context) => {
    if (context.words.length > 1)
      return usageProblem('report takes one shift. Name it by its date, as 2026-11-20.');
    return withStore(context, (store) => {
      if (flagOf(context, 'from') !== undefined || flagOf(context, 'to') !== undefined)
        return stretch(context, store);
      const [wanted] = context.words;
      if (wanted === undefined) return show(context, store, store.books());
      const shift = [...store.shifts()].reverse().find(({ id, date }) => id === wanted || date === wanted);
      const books = shift === undefined ? null : store.booksOfShift(shift.id);
      if (books !== null) return show(context, store, books);
      const dates = store
        .shifts()
        .slice(-3)
        .map(({ date }) => date);
      const remedy =
        dates.length === 0 ? 'Open one with ullage open.' : `The last ones are ${dates.join(', ')}.`;
      return refused([
        {
          code: 'unknown-shift',
          exit: 65,
          message: `No shift is known as "${clean(wanted).slice(0, 40)}". ${remedy}`,
        },
      ]);
    });
  },
};
