// A report over a year of nights (about half a million events) against one over a week of the same books, as processes and
// inside one.
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { newEventId } from '../../src/shell/world.ts';
import { openSqliteStore } from '../../src/store/file/sqlite.ts';
import { reportOfStretch } from '../../src/store/reports.ts';
import { history, makeBooks, time } from './history.ts';
import { figure, median } from './measure.ts';
import type { Figure } from './run.ts';

const ROUNDS = 15;

export function periodsBench(): Figure[] {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-bench-'));
  try {
    // 366 nights of 1,280 pours, 45 deliveries and 45 counts; a night of that length takes seven hours, the next is a day on.
    const events = makeBooks(folder, history(500_000, 1_280, 16 * 3_600_000));
    const opened = openSqliteStore(folder, {
      now: () => Date.now(),
      newId: newEventId,
      station: () => 'bench',
    });
    if (!opened.ok) throw new Error(opened.problems[0]?.message);
    const dates = opened.value.shifts().map(({ date }) => date);
    const year = ['--from', dates[0] as string, '--to', dates.at(-2) as string];
    const week = ['--from', dates.at(-8) as string, '--to', dates.at(-2) as string];
    const inside = (words: readonly string[]): number => {
      const begun = performance.now();
      reportOfStretch(opened.value, words[1] as string, words[3] as string);
      return performance.now() - begun;
    };
    const page = join(folder, 'page.html');
    const ways = [
      ['inside one process', inside],
      ['as a process, --json', (words: readonly string[]) => time(folder, ['report', ...words, '--json'])],
      [
        'as a process, --html',
        (words: readonly string[]) => time(folder, ['report', ...words, '--html', page]),
      ],
    ] as const;
    for (const [, run] of ways) for (const words of [week, year]) run(words);
    const bytes = statSync(page).size;
    const name = `${dates.length - 1} nights, ${events.toLocaleString('en')} events`;
    const figures = ways.map(([way, run]) => {
      const [short, long]: [number[], number[]] = [[], []];
      for (let round = 0; round < ROUNDS; round += 1) {
        short.push(run(week));
        long.push(run(year));
      }
      return figure(`report over ${name}, against its last week, ${way}`, median(long), 'ms', median(short));
    });
    opened.value.close();
    return [...figures, figure('page of that year', bytes / 1000, 'kB')];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
