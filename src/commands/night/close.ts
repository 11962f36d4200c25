// close, report: the closing report of the open shift, of any shift, sealed or not.

import { driftReport } from '../../domain/drift/drift-report.ts';
import { intendSeal } from '../../domain/intent/intend-shift.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { isOpen } from '../../domain/ledger/books.ts';
import type { Event } from '../../domain/ledger/event.ts';
import { coursesOfNight, coursesOfShifts } from '../../domain/report/course/courses.ts';
import { byWeight } from '../../domain/report/order.ts';
import type { Result } from '../../domain/value/problem.ts';
import { receiptText } from '../../exchange/print/receipt-text.ts';
import { reportCsv } from '../../exchange/print/report-csv.ts';
import { reportText } from '../../exchange/print/report-text.ts';
import { type Reported, reportBetween, reportNamed, SEASON } from '../../store/reports.ts';
import type { Store } from '../../store/store.ts';
import {
  byOf,
  type Command,
  type Context,
  datesOf,
  flagOf,
  hasFlag,
  type Outcome,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';
import { markLine } from '../line/mark.ts';
import { withHouse } from '../stations/houses.ts';
import { missingStations } from '../stations/missing.ts';
import { passwordFlag } from '../stations/server.ts';

const files = [
  { name: 'html', takes: 'FILE', says: 'writes the report as one web page' },
  { name: 'csv', takes: 'FILE', says: 'writes the report as CSV' },
  { name: 'receipt', says: 'prints it 42 characters wide, short, for pinning up' },
  { name: 'all', says: 'prints every item that was counted, not only what is put forward' },
  { name: 'people', says: 'names who poured, on the screen and on the page; personal data' },
];

export const close: Command = {
  name: 'close',
  usage: ['close [--seal] [--by NAME] [--html FILE] [--csv FILE] [--receipt] [--all] [--people]'],
  says: 'the closing report of the open shift; --seal closes it for good',
  flags: [
    { name: 'seal', says: 'closes the shift: later corrections are new events' },
    { name: 'by', takes: 'NAME', says: 'who seals it' },
    {
      name: 'without',
      takes: 'STATIONS',
      says: 'seals though these stations of the house are not in step; their names, with commas',
    },
    ...files,
  ],
  run: (context) =>
    withStore(context, async (store) => {
      if (!isOpen(store.books().shift))
        return refused([
          {
            code: 'no-shift',
            exit: 65,
            message: 'No shift is open. See the last one with ullage report, or open one with ullage open.',
          },
        ]);
      const seals = hasFlag(context, 'seal');
      // What the others recorded until now belongs into it; a seal is no tap and may wait for that.
      const apart = seals ? await missingStations(context, store.books().house.zone) : null;
      if (apart !== null) return apart;
      const before = await show(context, store, reportNamed(store, undefined));
      // A file that can't be written stops the seal: nothing is half done. It is written again with the seal in it.
      if (!seals || before.exit !== 0) return before;
      const sealed = seal(context, store);
      if (!sealed.ok) return refused(sealed.problems);
      const after = await show(context, store, reportNamed(store, undefined));
      // The seal stands whatever happens to the file: it is said first.
      if (after.exit !== 0) return { ...after, err: `The shift is sealed. ${after.err}` };
      return context.json ? after : { ...after, out: `${after.out}${markLine(store.mark())}\n` };
    }),
};

const show = (context: Context, store: Store, reported: Result<Reported>): Outcome | Promise<Outcome> =>
  reported.ok ? deliver(context, store, reported.value) : refused(reported.problems);

function seal(context: Context, store: Store): Result<unknown> {
  return store.record((books, now) => {
    const by = byOf(context, books);
    if (!by.ok) return by;
    return intendSeal(books, { by: by.value, now, ...(context.at === undefined ? {} : { at: context.at }) });
  });
}

/** Prints a report and writes the files asked for; nothing is printed when a file can't be written. */
async function deliver(context: Context, store: Store, reported: Reported): Promise<Outcome> {
  const { report, books } = reported;
  const wanted = [
    [flagOf(context, 'html'), () => pageOf(store, reported, hasFlag(context, 'people'))],
    [flagOf(context, 'csv'), () => reportCsv(report, books.house)],
  ] as const;
  for (const [file, text] of wanted) {
    if (file === undefined) continue;
    const written = context.world.writeFile(file, await text());
    if (!written.ok) return refused(written.problems);
  }
  if (context.json) return sayJson(report);
  return say(
    hasFlag(context, 'receipt')
      ? receiptText(report, books)
      : reportText(report, books, { people: hasFlag(context, 'people'), all: hasFlag(context, 'all') }),
  );
}

/** How many items get a chart of their stock, and at most how many nights it is drawn from. */
const CHARTED = 6;
const MOST_NIGHTS = 20;

/** The page; what draws its charts is loaded only here. */
async function pageOf(
  store: Store,
  { report, books, before, shifts }: Reported,
  people: boolean,
): Promise<string> {
  const { reportHtml } = await import('../../exchange/page/report-html.ts');
  const items = [...report.items]
    .sort(byWeight(books.house))
    .slice(0, CHARTED)
    .flatMap(({ item }) => books.items.get(item) ?? []);
  const step = Math.max(1, Math.ceil(shifts.length / MOST_NIGHTS));
  const courses =
    shifts.length === 1
      ? coursesOfNight(before, eventsOf(store, before, books, shifts.at(-1)), books, items)
      : coursesOfShifts(
          shifts
            .filter((_, index) => (shifts.length - 1 - index) % step === 0)
            .flatMap((id) => store.booksOfShift(id) ?? []),
          items,
        );
  return reportHtml({ report, books, drift: driftReport(books, store.shiftBooks(SEASON)), courses, people });
}

const eventsOf = (store: Store, before: Books | null, end: Books, knownBy?: string): readonly Event[] =>
  store.between(before?.last?.at ?? '', end.shift?.sealedAt ?? end.last?.at ?? '', knownBy);

export const report: Command = {
  name: 'report',
  usage: ['report [SHIFT | --from DATE --to DATE] [--html FILE] [--csv FILE] [--receipt] [--all] [--people]'],
  says: 'the report of any shift, by its date or id, or over a stretch of dates; the last shift when none is named',
  examples: ['report 2026-11-20 --json', 'report --from 2026-11-01 --to 2026-11-30'],
  flags: [
    { name: 'from', takes: 'DATE', says: 'first business date of a stretch' },
    { name: 'to', takes: 'DATE', says: 'last business date of it' },
    { name: 'house', takes: 'NAME', says: 'of another house, read from a server' },
    { name: 'server', takes: 'URL', says: 'where that house is' },
    passwordFlag,
    ...files,
  ],
  run: (context) => {
    if (context.words.length > 1)
      return usageProblem('report takes one shift. Name it by its date, as 2026-11-20.');
    const isStretch = flagOf(context, 'from') !== undefined || flagOf(context, 'to') !== undefined;
    if (isStretch && context.words.length > 0)
      return usageProblem('Name a shift, or --from and --to, not both. Leave one out.');
    return withReported(context, async (store) => {
      const outcome = await show(
        context,
        store,
        isStretch ? reportBetween(store, datesOf(context)) : reportNamed(store, context.words[0]),
      );
      return { ...outcome, err: outcome.err + twinNotice(store, context.words[0]) };
    });
  },
};

/** On these books, or on those of a house that a server has. */
async function withReported(context: Context, work: (store: Store) => Promise<Outcome>): Promise<Outcome> {
  const [name, url] = [flagOf(context, 'house'), flagOf(context, 'server')];
  if (name === undefined && url === undefined) return withStore(context, work);
  if (name === undefined || url === undefined)
    return usageProblem('A report of another house takes both --house NAME and --server URL. Give both.');
  return withHouse(context, { name, url }, work);
}

/** Two shifts can bear one date: the report says which it is. */
function twinNotice(store: Store, wanted: string | undefined): string {
  const twins = store.shifts().filter(({ date }) => date === wanted);
  if (twins.length < 2) return '';
  const others = twins.slice(0, -1).map(({ id }) => id);
  return `${twins.length} shifts have that date, and this is the last. The other${others.length === 1 ? '' : 's'}: ${others.join(', ')}\n`;
}
