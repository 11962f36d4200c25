// Taps the books would not have when the rooms closed, a closed window's too: kept in a file beside the books, else where this
// machine keeps its own notes, and recorded at the next start under the ids they were tapped with, so never twice.
import { existsSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describeEvent } from '../../domain/ledger/describe.ts';
import type { Event } from '../../domain/ledger/event.ts';
import { done, type Problem, saidInRooms } from '../../domain/value/problem.ts';
import { readEvents, writeEvent } from '../../exchange/file/event-lines.ts';
import type { Message } from '../../screens/room.ts';
import type { Store } from '../../store/store.ts';
import { hasFolder, readLines, writeText } from './files.ts';
import { markOf } from './paths.ts';

/** Where the unsaved taps of these books are kept, the likeliest place first. */
export function unsavedFiles(dataFolder: string, stateFolder: string): readonly string[] {
  return [join(dataFolder, 'unsaved.jsonl'), join(stateFolder, `unsaved-${markOf(dataFolder)}.jsonl`)];
}

/** Keeps them, with those kept before; says in which file, null when no disk takes them. */
export function keepUnsaved(files: readonly string[], events: readonly Event[]): string | null {
  for (const file of files) {
    const before = keptIn(file);
    const known = new Set(before.events.map(({ id }) => id));
    const all = [...before.events, ...events.filter(({ id }) => !known.has(id))];
    // A line that is none of ours is never written over.
    if (before.bad === null && hasFolder(dirname(file)) && writeText(file, all.map(writeEvent).join('')).ok)
      return file;
  }
  return null;
}

type Kept = { readonly events: readonly Event[]; readonly bad: Problem | null };

function keptIn(file: string): Kept {
  if (!existsSync(file)) return { events: [], bad: null };
  const lines = readLines(file);
  if (!lines.ok) return { events: [], bad: lines.problems[0] ?? null };
  const events: Event[] = [];
  let bad: Problem | null = null;
  for (const one of readEvents(lines.value)) {
    if (one === null) continue;
    if ('code' in one) bad ??= one;
    else events.push(one);
  }
  return { events, bad };
}

type Try = { readonly saved: Event[]; left: number; problem: Problem | null };

/** Records what was kept; what to say of it, null when nothing was. */
export function takeUpUnsaved(store: Store, files: readonly string[]): Message | null {
  const tried: Try = { saved: [], left: 0, problem: null };
  let where = '';
  for (const file of files.filter((one) => existsSync(one))) {
    const { events, bad } = keptIn(file);
    let problem = bad;
    for (const event of events) {
      const result = store.record(() => done([event]));
      if (result.ok) tried.saved.push(...result.value);
      else {
        tried.left += 1;
        problem ??= result.problems[0] ?? null;
      }
    }
    if (problem === null) problem = takenAway(file);
    tried.problem ??= problem;
    if (problem !== null) where = file;
  }
  return messageOf(tried, where, store);
}

/** Everything of it is recorded; where it can't be removed it is said, and nothing is recorded twice. */
function takenAway(file: string): Problem | null {
  try {
    rmSync(file, { force: true });
    return null;
  } catch {
    return {
      code: 'file-stays',
      message: `${file} can't be removed; everything in it is recorded.`,
      exit: 73,
    };
  }
}

const taps = (count: number): string => (count === 1 ? '1 tap' : `${count} taps`);

function messageOf({ saved, left, problem }: Try, where: string, store: Store): Message | null {
  const said = saved.map((event) => describeEvent(event, store.books())).join(' · ');
  const done = saved.length === 0 ? '' : `Saved now, from when the rooms closed: ${said}.`;
  if (problem === null) return done === '' ? null : { text: done, tone: 'done' };
  if (problem.code === 'file-stays')
    return {
      text: [done, problem.message, 'Take it away.'].filter((text) => text !== '').join(' '),
      tone: 'plain',
    };
  const what = left === 0 ? 'Something' : taps(left);
  // Why the books can't be written stands there already.
  const rest =
    store.readOnly() === null
      ? `${what} from when the rooms closed can't be saved: ${saidInRooms(problem)} Kept in ${where}; take it away when that is settled.`
      : `${what} from when the rooms closed wait in ${where}.`;
  return { text: [done, rest].filter((text) => text !== '').join(' '), tone: 'refused' };
}
