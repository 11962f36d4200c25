// What a command is, what it gets and what it gives back. Commands never print and never end the process: they return
// what to say and with which code to leave.
import type { Books } from '../../domain/ledger/books.ts';
import { booksAt } from '../../domain/ledger/stock/in-date.ts';
import { findPerson } from '../../domain/search/find.ts';
import { instantOf, parseInstant } from '../../domain/value/clock-date.ts';
import type { PersonId } from '../../domain/value/ids.ts';
import { done, type Problem, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import type { StationNotes } from '../../store/station.ts';
import type { Incoming, Store } from '../../store/store.ts';

export type Flag = {
  readonly name: string;
  readonly takes?: string;
  readonly says: string;
  readonly many?: boolean;
};

export type Command = {
  readonly name: string;
  /** Usage lines without the program's name, first one the usual. */
  readonly usage: readonly string[];
  readonly says: string;
  readonly examples?: readonly string[];
  readonly flags?: readonly Flag[];
  readonly run: (context: Context) => Outcome | Promise<Outcome>;
};

export type Outcome = {
  readonly exit: number;
  readonly out: string;
  readonly err: string;
  readonly rooms?: true;
};

/** What commands may touch of the world outside; the tests hand in their own. */
export type World = {
  readonly now: () => number;
  readonly dataFolder: string;
  readonly isTerminal: boolean;
  readonly version: string;
  readonly openStore: () => Promise<Result<Store>>;
  readonly readFile: (path: string) => Result<Uint8Array>;
  /** What this machine keeps of the house it joined. */
  readonly notes: StationNotes;
  /** How far something long is, as a share. */
  readonly progress: (share: number) => void;
  /** The lines of a file of events, however long, as they are asked for. */
  readonly readEvents: (path: string) => Result<Iterable<Incoming>>;
  /** Writes whole or not at all. */
  readonly writeFile: (path: string, text: string) => Result<null>;
  /** A text in the editor of this machine, under a name; what it is afterwards. */
  readonly edit: (text: string, name: string) => Promise<Result<string>>;
  /** Says something at once and waits for Enter; false where nobody can answer. */
  readonly tell: (text: string) => Promise<boolean>;
};

export type Context = {
  readonly words: readonly string[];
  readonly flags: ReadonlyMap<string, readonly string[]>;
  readonly json: boolean;
  /** `--at` as an instant; what the command records happened then. */
  readonly at: string | undefined;
  readonly world: World;
};

/** Text for a person: made safe line by line. */
export const say = (out: string): Outcome =>
  sayExact(
    out
      .split('\n')
      .map((text) => clean(text) as string)
      .join('\n'),
  );

/** A file's own text (CSV, cards, JSON Lines), which must come back as it is. */
export const sayExact = (out: string): Outcome => ({
  exit: 0,
  out: out === '' || out.endsWith('\n') ? out : `${out}\n`,
  err: '',
});

/** What JSON leaves as it is though a terminal would act on it: C1 controls, format and ignorable characters. */
const actsOnTerminals = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]/gu;
const escaped = (char: string): string =>
  [...Array(char.length).keys()]
    .map((at) => `\\u${char.charCodeAt(at).toString(16).padStart(4, '0')}`)
    .join('');

export const sayJson = (value: unknown): Outcome =>
  sayExact(
    JSON.stringify(value, null, 2)
      .split('\n')
      .map((text) => text.replace(actsOnTerminals, escaped))
      .join('\n'),
  );

/** Problems as sentences on stderr; the first one's code is the exit code. */
export function refused(problems: readonly Problem[], file?: string): Outcome {
  const lines = problems.map(({ line, message }) => {
    const where = [file === undefined ? '' : clean(file), line === undefined ? '' : `line ${line}`]
      .filter((part) => part !== '')
      .join(', ');
    return `${where === '' ? '' : `${where}: `}${clean(message)}\n`;
  });
  return { exit: problems[0]?.exit ?? 70, out: '', err: lines.join('') };
}

export const usageProblem = (message: string): Outcome => refused([{ code: 'usage', message, exit: 64 }]);

export const flagOf = (context: Context, name: string): string | undefined => context.flags.get(name)?.at(-1);
export const hasFlag = (context: Context, name: string): boolean => context.flags.has(name);

/** `--at` as it was typed, as an instant; undefined when it was not given. */
export function instantOfFlag(text: string | undefined): Result<string | undefined> {
  if (text === undefined) return done(undefined);
  const instant = parseInstant(text);
  return instant === null
    ? refuse(
        'bad-at',
        `--at "${clean(text).slice(0, 40)}" is not an instant with an offset. Write it as 2026-11-20T22:41:00+01:00.`,
      )
    : done(instant);
}

/** `--from` and `--to` as they were typed. */
export const datesOf = (context: Context) => ({ from: flagOf(context, 'from'), to: flagOf(context, 'to') });

/** `--by` as a person who works here; null when it was not given. */
export function byOf(context: Context, books: Books): Result<PersonId | null> {
  const text = flagOf(context, 'by');
  if (text === undefined) return done(null);
  const person = findPerson(books, text);
  return person.ok ? done(person.value.id) : person;
}

/** The moment a list is for: that of `--at`, else now. */
export const momentOf = ({ at, world }: Context): string => at ?? instantOf(world.now());

/** The books as they are to be read then: what is past its date is none of tonight's stock. What was recorded since is in them. */
export const booksNow = (context: Context, store: Store): Books => booksAt(store.books(), momentOf(context));

/** Lines that count nowhere are never passed over in silence. */
const asideNotice = (count: number): string =>
  count === 0
    ? ''
    : `${count} line${count === 1 ? '' : 's'} of the books can't be read and count${count === 1 ? 's' : ''} nowhere. ullage check names ${count === 1 ? 'it' : 'them'}.\n`;

/** Runs work on the open store and closes it whatever happens. */
export async function withStore(
  context: Context,
  work: (store: Store) => Outcome | Promise<Outcome>,
): Promise<Outcome> {
  const store = await context.world.openStore();
  if (!store.ok) return refused(store.problems);
  try {
    const outcome = await work(store.value);
    return { ...outcome, err: `${asideNotice(store.value.setAside())}${outcome.err}` };
  } catch (error) {
    const problem = store.value.explain(error);
    if (problem === null) throw error;
    return refused([problem]);
  } finally {
    store.value.close();
  }
}
