// The demo: a fresh temporary copy of the invented house, gone again afterwards.
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { getAsset, isSea } from 'node:sea';
import { fileURLToPath } from 'node:url';
import { runCommand } from '../commands/run.ts';
import { specsInUse } from '../domain/catalogue/catalogue.ts';
import type { Spec } from '../domain/catalogue/spec.ts';
import { drinksLeft } from '../domain/drink/measures.ts';
import { intendPour } from '../domain/intent/intend-pour.ts';
import { intendOpenShift } from '../domain/intent/intend-shift.ts';
import { usableByItem } from '../domain/ledger/books.ts';
import { instantOf } from '../domain/value/clock-date.ts';
import type { PersonId } from '../domain/value/ids.ts';
import { done } from '../domain/value/problem.ts';
import { tidyLeft } from '../store/file/open/birth.ts';
import { BOOKS_FILE } from '../store/file/open/names.ts';
import type { Store } from '../store/store.ts';
import { makeWorld } from './world.ts';

/** The package's own folder, from the bundle (.build/) and from source (src/shell/) alike. */
function ownFolder(): string {
  const here = fileURLToPath(new URL('.', import.meta.url));
  return (
    [join(here, '..'), join(here, '..', '..')].find((folder) => existsSync(join(folder, 'data-demo'))) ?? here
  );
}

export const DEMO_STATION = 'demo';

/** Makes the copy. The books are built once into .build/ when the project is built; without them they are imported. */
export async function makeDemo(env: NodeJS.ProcessEnv): Promise<{ folder: string; remove: () => void }> {
  tidyLeft(tmpdir(), 'ullage-demo-');
  const folder = mkdtempSync(join(tmpdir(), `ullage-demo-${process.pid}-`));
  // In the one file it is carried inside.
  if (isSea()) {
    writeFileSync(join(folder, BOOKS_FILE), Buffer.from(getAsset('demo.sqlite')), { mode: 0o600 });
    return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
  }
  const built = join(ownFolder(), '.build', 'demo.sqlite');
  if (existsSync(built)) copyFileSync(built, join(folder, BOOKS_FILE));
  else await importDemo(folder, env);
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

const HOUR = 3_600_000;
/** For how long the demo's night has been going on when its rooms open. */
const BEGUN = 2.5 * HOUR;

/**
 * Puts the demo's books into the middle of a night, so that the first Enter pours: a shift that opened a while ago, with the last
 * pours of the night before. Nothing where the clock stands before the demo's nights.
 */
export async function beginNight(folder: string, env: NodeJS.ProcessEnv): Promise<void> {
  const world = makeWorld(folder, env, '', DEMO_STATION);
  const opened = await world.openStore();
  if (!opened.ok) return;
  const store = opened.value;
  try {
    const { sealedUntil, shift, people } = store.books();
    const at = (share: number): string => instantOf(world.now() - BEGUN * (1 - share));
    const [first] = people.keys();
    if (sealedUntil === null || sealedUntil >= at(0) || shift === null || first === undefined) return;
    const pours = shift.recent;
    const begun = store.record(
      (books) => intendOpenShift(books, { by: first, now: at(0), at: at(0) }),
      at(0),
    );
    if (!begun.ok) return;
    pourLow(store, at, first);
    pours.forEach(({ spec: id, count, as, by }, index) => {
      const when = at((index + 1) / (pours.length + 1));
      store.record((books) => {
        const spec = id === null ? undefined : books.specs.get(id);
        return spec === undefined
          ? done([])
          : intendPour(books, { spec, count, as, by, changes: [], at: when });
      }, when);
    });
  } finally {
    store.close();
  }
}

/** So many drinks are left of what runs out first. */
const NEARLY_OUT = 3;
/** A drink of which more stand than this would take a longer night. */
const MOST_POURED = 30;

/** A busy night: of the drink that runs out first nearly all are poured, one after the other, so that something is low. */
function pourLow(store: Store, at: (share: number) => string, by: PersonId): void {
  const books = store.books();
  const expected = usableByItem(books);
  const left = (spec: Spec): number => drinksLeft(spec, books, expected) ?? 0;
  const [spec] = specsInUse(books)
    .filter((one) => left(one) > NEARLY_OUT && left(one) <= MOST_POURED)
    .sort((a, b) => left(a) - left(b));
  if (spec === undefined) return;
  const many = left(spec) - NEARLY_OUT;
  for (let poured = 0; poured < many; poured += 1) {
    const when = at((poured + 0.5) / (many + 1));
    store.record((so) => intendPour(so, { spec, count: 1, as: 'sale', by, changes: [], at: when }), when);
  }
}

/** Imports the demo's files into an empty folder. */
export async function importDemo(folder: string, env: NodeJS.ProcessEnv): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const world = makeWorld(folder, env, '', DEMO_STATION);
  const outcome = await runCommand(['import', join(ownFolder(), 'data-demo', 'events.jsonl')], world);
  if (outcome.exit !== 0) throw new Error(`the demo cannot be imported: ${outcome.err}`);
}
