// import: files of the house and of the till. A file goes in whole or not at all.

import { itemChanges, specChanges } from '../../domain/card/card-changes.ts';
import { readSpecs } from '../../domain/card/spec-card.ts';
import { allergenDoubts } from '../../domain/drink/allergens.ts';
import { intendItem, intendSpec } from '../../domain/intent/intend-house.ts';
import { intendEach } from '../../domain/intent/intent.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { EventDraft } from '../../domain/ledger/event.ts';
import { kindDoubts } from '../../domain/search/kind-doubt.ts';
import { fillNotice } from '../../domain/standard/law.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { csvHeader } from '../../exchange/file/csv.ts';
import { readEvents } from '../../exchange/file/event-lines.ts';
import { readItems } from '../../exchange/file/item-csv.ts';
import { decodeText } from '../../exchange/file/read-text.ts';
import { isSalesHeader, readSales, type Sales } from '../../exchange/file/sales-csv.ts';
import type { Store } from '../../store/store.ts';
import {
  type Command,
  type Context,
  hasFlag,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';

type Imported = {
  readonly file: string;
  readonly kind: string;
  readonly added: number;
  readonly known: number;
  /** What was there and is written anew: its name, then line by line what it was and what it is. */
  readonly changes?: readonly Change[];
  /** What is worth a look though it was taken in. */
  readonly notices?: readonly string[];
};

type Change = { readonly name: string; readonly lines: readonly string[] };

export const importFiles: Command = {
  name: 'import',
  usage: ['import FILE… [--preview]'],
  says: 'items (.csv), spec cards (.txt), till sales (.csv) or events (.jsonl); whole or not at all, twice is harmless',
  examples: ['import items.csv specs.txt', 'import till-friday.csv', 'import items.csv --preview'],
  flags: [
    {
      name: 'preview',
      says: 'what of items or cards is new and what changes, old and new; nothing is written',
    },
  ],
  run: (context) => {
    if (context.words.length === 0) return usageProblem('Name a file, as ullage import items.csv.');
    return withStore(context, (store) => {
      const imported: Imported[] = [];
      for (const file of context.words) {
        const one = importOne(context, store, file);
        if (!one.ok) return { ...refused(one.problems, file), out: context.json ? '' : lines(imported) };
        imported.push({ file, ...one.value });
      }
      if (hasFlag(context, 'preview')) return context.json ? sayJson(imported) : say(previewText(imported));
      const notices = imported.flatMap((one) => one.notices ?? []).map((notice) => `${clean(notice)}\n`);
      const written = `${lines(imported)}${changesText(imported)}`;
      return { ...(context.json ? sayJson(imported) : say(written)), err: notices.join('') };
    });
  },
};

const lines = (imported: readonly Imported[]): string =>
  imported
    .map(
      ({ file, kind, added, known }) =>
        `${clean(file)}: ${added} ${kind} written, ${known} already as they are\n`,
    )
    .join('');

/** So many are told one by one; of more, how many they are. */
const MOST_CHANGES = 20;

function changesText(imported: readonly Imported[]): string {
  const all = imported.flatMap(({ changes }) => changes ?? []);
  const told = all
    .slice(0, MOST_CHANGES)
    .map(
      ({ name, lines: rows }) =>
        `${[`${name} was there and is now`, ...rows.map((row) => `  ${row}`)].map(clean).join('\n')}\n`,
    );
  const more = all.length - told.length;
  return `${told.join('')}${more > 0 ? `and ${more} more that were there\n` : ''}`;
}

const previewText = (imported: readonly Imported[]): string =>
  `${imported
    .map(({ file, kind, added, known, changes = [] }) => {
      const [fresh, anew] = [added - changes.length, changes.length];
      return `${clean(file)}: ${fresh} ${kind} new, ${anew} changed, ${known} the same; nothing is written\n`;
    })
    .join('')}${changesText(imported)}`;

function importOne(context: Context, store: Store, file: string): Result<Omit<Imported, 'file'>> {
  const isPreview = hasFlag(context, 'preview');
  if (/\.jsonl$/i.test(file)) return isPreview ? noPreview() : importEvents(context, store, file);
  const bytes = context.world.readFile(file);
  if (!bytes.ok) return bytes;
  const text = decodeText(bytes.value, clean(file));
  if (!text.ok) return text;
  if (/\.txt$/i.test(file))
    return importCatalogue(context, store, 'specs', (books) =>
      draftsOf(readSpecs(text.value, books), books, intendSpec),
    );
  const header = csvHeader(text.value);
  if (isSalesHeader(header)) return isPreview ? noPreview() : importSales(store, context.at, text.value);
  if (/\.csv$/i.test(file) || header.includes('id')) {
    return importCatalogue(context, store, 'items', (books) =>
      draftsOf(readItems(text.value, books), books, intendItem),
    );
  }
  return refuse(
    'unknown-file',
    'It is neither items (.csv), spec cards (.txt) nor events (.jsonl). Give it the right ending.',
  );
}

const noPreview = () =>
  refuse(
    'no-preview',
    'Only items and spec cards have a preview. Leave --preview out; it goes in whole or not at all.',
    64,
  );

type Drafts = { readonly drafts: EventDraft[]; readonly known: number };

function draftsOf<T>(
  read: Result<T[]>,
  books: Books,
  intend: (books: Books, thing: T) => Result<EventDraft[]>,
): Result<Drafts> {
  if (!read.ok) return read;
  const drafts = intendEach(books, read.value, intend);
  if (!drafts.ok) return drafts;
  return done({ drafts: drafts.value, known: read.value.length - drafts.value.length });
}

/** What drafts would write anew of what stands in the books. */
const changesOf = (drafts: readonly EventDraft[], books: Books): Change[] =>
  drafts.flatMap((draft): Change[] => {
    if (draft.kind === 'item-written') {
      const before = books.items.get(draft.item.id);
      return before === undefined
        ? []
        : [{ name: before.name, lines: itemChanges(before, draft.item, books) }];
    }
    const before = draft.kind === 'spec-written' ? books.specs.get(draft.spec.id) : undefined;
    return before === undefined || draft.kind !== 'spec-written'
      ? []
      : [{ name: before.name, lines: specChanges(before, draft.spec, books) }];
  });

function importCatalogue(
  context: Context,
  store: Store,
  kind: string,
  read: (books: Books) => Result<Drafts>,
): Result<Omit<Imported, 'file'>> {
  let [known, changes]: [number, Change[]] = [0, []];
  const asked = (books: Books): Result<EventDraft[]> => {
    const drafts = read(books);
    if (!drafts.ok) return drafts;
    known = drafts.value.known;
    changes = changesOf(drafts.value.drafts, books);
    return done(drafts.value.drafts);
  };
  if (hasFlag(context, 'preview')) {
    const drafts = asked(store.books());
    return drafts.ok ? done({ kind, added: drafts.value.length, known, changes }) : drafts;
  }
  const recorded = store.record(asked, context.at);
  if (!recorded.ok) return recorded;
  const items = recorded.value.flatMap((event) => (event.kind === 'item-written' ? [event.item] : []));
  const today = recorded.value[0]?.at.slice(0, 10) ?? '';
  const notices = [
    ...items.flatMap((item) => [fillNotice(item, today) ?? [], allergenDoubts(item)].flat()),
    ...kindDoubts(items, store.books()),
  ];
  return done({ kind, added: recorded.value.length, known, changes, notices });
}

/** Every line is kept; names no spec answers to are listed with their line, to be matched. */
function importSales(store: Store, at: string | undefined, text: string): Result<Omit<Imported, 'file'>> {
  let sales: Sales = { drafts: [], unknown: [], skipped: [] };
  const recorded = store.record((books, now) => {
    const read = readSales(text, books, now);
    if (!read.ok) return read;
    sales = read.value;
    return done(sales.drafts);
  }, at);
  if (!recorded.ok) return recorded;
  const notices = sales.unknown.map(
    ({ drink, line, sold }) =>
      `line ${line}: nothing is called "${drink}" (${sold} sold). It is kept; say what it is with ullage match "${drink}" SPEC, or a measure as "25 ml dry gin".`,
  );
  if (sales.skipped.length > 0)
    notices.push(
      `line ${sales.skipped.slice(0, 5).join(', ')}: the clocks were put forward over that time, so it never was; it is read as the time an hour later. Look at the till's clock.`,
    );
  const added = recorded.value.length;
  return done({ kind: 'lines of the till', added, known: sales.drafts.length - added, notices });
}

/** Line by line, however long the file is. */
function importEvents(context: Context, store: Store, file: string): Result<Omit<Imported, 'file'>> {
  if (context.at !== undefined)
    return refuse('own-moments', 'Events have moments of their own. Leave --at out.', 64);
  const lines = context.world.readLines(file);
  if (!lines.ok) return lines;
  const outcome = store.importEvents(readEvents(lines.value));
  return outcome.ok ? done({ kind: 'events', ...outcome.value }) : outcome;
}
