// Start-up, closing report and memory with 10 thousand, 100 thousand and 1 million events of history before one shift.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { v7 as uuid } from 'uuid';
import type { Event } from '../../src/domain/ledger/event.ts';
import type { EventId } from '../../src/domain/value/ids.ts';
import { openSqliteStore } from '../../src/store/file/sqlite.ts';
import { figure, median } from './measure.ts';
import type { Figure } from './run.ts';

const root = new URL('../..', import.meta.url).pathname;
const program = `${root}.build/ullage.cjs`;
const ITEMS = 45;
const PER_SHIFT = 500;

/** Years of shifts of the same kind: opened, poured, counted, sealed; then one open shift that is the same for all. */
export function* history(total: number, perShift = PER_SHIFT, apart = 4 * 3_600_000): Generator<Event> {
  const from = Date.parse('2024-01-01T18:00:00.000Z');
  let seq = 0;
  let at = from;
  const next = (): { id: EventId; at: string; station: string; seq: number; by: null } => {
    seq += 1;
    at += 20_000;
    return {
      id: uuid({ msecs: at, seq }) as EventId,
      at: new Date(at).toISOString(),
      station: 'bench',
      seq,
      by: null,
    };
  };
  const item = (index: number) => `item-${index % ITEMS}` as never;
  for (let index = 0; index < ITEMS; index += 1) {
    yield {
      ...next(),
      shift: null,
      kind: 'item-written',
      item: {
        id: item(index),
        name: `Item ${index}`,
        also: [],
        kind: 'spirit',
        unit: 'ml',
        size: 700_000,
        sizeText: '700 ml',
        tareMilligrams: null,
        abvPercent: 40,
        sugarGramsPerLitre: null,
        costMinor: 1500,
        caseOf: null,
        place: 'bar',
        shelf: String(index),
        par: null,
        count: 'tenths',
        allergens: [],
        caution: '',
      },
    };
  }
  yield {
    ...next(),
    shift: null,
    kind: 'spec-written',
    spec: {
      id: 'sour' as never,
      name: 'Sour',
      also: [],
      family: 'sour',
      glass: '',
      ice: '',
      garnish: '',
      method: 'shake',
      tags: [],
      priceMinor: 1200,
      measures: [{ quantity: '50', unit: 'ml', item: item(0) }],
    },
  };
  const shifts = Math.max(1, Math.round((total - ITEMS) / (perShift + ITEMS * 2 + 2)));
  for (let shift = 0; shift <= shifts; shift += 1) {
    const opened: Event = {
      ...next(),
      shift: null,
      kind: 'shift-opened',
      date: new Date(at).toISOString().slice(0, 10),
    };
    yield opened;
    for (let index = 0; index < ITEMS; index += 1)
      yield {
        ...next(),
        shift: opened.id,
        kind: 'delivery-received',
        item: item(index),
        place: 'bar',
        containers: 1,
        amount: 700_000,
        costMinor: 1500,
      };
    for (let pour = 0; pour < perShift; pour += 1) {
      yield {
        ...next(),
        shift: opened.id,
        kind: 'drink-poured',
        spec: 'sour' as never,
        name: 'Sour',
        count: 1,
        as: 'sale',
        priceMinor: 1200,
        changes: [],
        draws: [
          { item: item(pour), place: 'bar', amount: 50_000, costMillis: 107_143 },
          { item: item(pour + 7), place: 'bar', amount: 20_000, costMillis: 42_857 },
        ],
      };
    }
    for (let index = 0; index < ITEMS; index += 1)
      yield {
        ...next(),
        shift: opened.id,
        kind: 'stock-counted',
        item: item(index),
        place: 'bar',
        reading: '1.4',
        method: 'tenths',
        amount: 980_000,
        sealed: 1,
        open: [280_000],
        deviation: 20_207,
        densityDeviation: 0,
        again: false,
      };
    if (shift < shifts) yield { ...next(), shift: opened.id, kind: 'shift-sealed', of: opened.id };
    at += apart;
  }
}

export function makeBooks(folder: string, events: Iterable<Event>): number {
  const opened = openSqliteStore(folder, {
    now: () => Date.now(),
    newId: () => uuid() as EventId,
    station: () => 'bench',
  });
  if (!opened.ok) throw new Error(opened.problems[0]?.message);
  let batch: Event[] = [];
  let count = 0;
  const flush = (): void => {
    const result = opened.value.importEvents(batch);
    if (!result.ok) throw new Error(result.problems[0]?.message);
    count += batch.length;
    batch = [];
  };
  for (const event of events) {
    batch.push(event);
    if (batch.length >= 50_000) flush();
  }
  flush();
  opened.value.close();
  return count;
}

/** One run of a command as a process of its own, wall time in ms. */
export function time(folder: string, words: readonly string[]): number {
  const begun = performance.now();
  execFileSync(process.execPath, [program, '--data', folder, ...words], {
    stdio: 'ignore',
    env: { ...process.env, XDG_CONFIG_HOME: folder },
  });
  return performance.now() - begun;
}

/** Opens the books in this process and takes the report: what start-up and closing cost without Node's own start. */
function openAndReport(folder: string): { open: number; report: number } {
  const begun = performance.now();
  const opened = openSqliteStore(folder, {
    now: () => Date.now(),
    newId: () => uuid() as EventId,
    station: () => 'bench',
  });
  if (!opened.ok) throw new Error(opened.problems[0]?.message);
  const open = performance.now() - begun;
  opened.value.close();
  return { open, report: time(folder, ['close', '--json']) };
}

/** The largest resident memory of `ullage close`, from the system's own account of it. */
function memoryOf(folder: string): number {
  const out = execFileSync(
    'bash',
    [
      '-c',
      `"$0" "$@" >/dev/null & pid=$!; peak=0; while kill -0 $pid 2>/dev/null; do now=$(awk '/VmHWM/{print $2}' /proc/$pid/status 2>/dev/null); [ -n "$now" ] && peak=$now; sleep 0.002; done; echo $peak`,
      process.execPath,
      program,
      '--data',
      folder,
      'close',
      '--json',
    ],
    {
      encoding: 'utf8',
      env: { ...process.env, XDG_CONFIG_HOME: folder },
    },
  );
  return Number(out.trim()) / 1024;
}

export function closingBench(): Figure[] {
  const sizes = [10_000, 100_000, 1_000_000];
  const folders = sizes.map(() => mkdtempSync(join(tmpdir(), 'ullage-bench-')));
  try {
    const counts = sizes.map((size, index) => makeBooks(folders[index] as string, history(size)));
    for (const folder of folders) openAndReport(folder);
    const times = sizes.map(() => ({ open: [] as number[], report: [] as number[] }));
    for (let round = 0; round < 9; round += 1) {
      folders.forEach((folder, index) => {
        const { open, report } = openAndReport(folder);
        times[index]?.open.push(open);
        times[index]?.report.push(report);
      });
    }
    const memory = folders.map((folder) => median([0, 1, 2].map(() => memoryOf(folder))));
    const base = times[0] as (typeof times)[number];
    return times.flatMap(({ open, report }, index) => {
      const events = `${(counts[index] ?? 0).toLocaleString('en')} events`;
      return [
        figure(`open the books, ${events}`, median(open), 'ms', median(base.open)),
        figure(`ullage close --json as a process, ${events}`, median(report), 'ms', median(base.report)),
        figure(`largest memory of ullage close, ${events}`, memory[index] ?? 0, 'MB', memory[0] ?? 0),
      ];
    });
  } finally {
    for (const folder of folders) rmSync(folder, { recursive: true, force: true });
  }
}
