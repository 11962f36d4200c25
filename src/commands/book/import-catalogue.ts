// What an import writes of the catalogue: items, cards, a spreadsheet. What is replaced is told, old and new, and can be seen before.
import {
  itemChanges,
  itemParts,
  type PartChange,
  specChanges,
  specParts,
} from '../../domain/card/card-changes.ts';
import { readSpecRows } from '../../domain/card/spec-card.ts';
import { allergenDoubts } from '../../domain/drink/allergens.ts';
import { movedPast, pastTargetText } from '../../domain/drink/target.ts';
import { intendItem, intendSheet, intendSpecs, intendSupplier } from '../../domain/intent/intend-house.ts';
import { intendEach } from '../../domain/intent/intent.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { EventDraft } from '../../domain/ledger/event.ts';
import { kindDoubts } from '../../domain/search/kind-doubt.ts';
import { headingKey, type Sheet } from '../../domain/sheet/sheet.ts';
import { takeSheet } from '../../domain/sheet/take-in.ts';
import { fillNotice } from '../../domain/standard/law.ts';
import { done, type Result, refuseAll } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { readItemRows } from '../../exchange/file/item-csv.ts';
import { readSupplierRows } from '../../exchange/file/supplier-csv.ts';
import type { Store } from '../../store/store.ts';
import { type Context, hasFlag } from '../line/command.ts';

export type Imported = {
  readonly file: string;
  readonly kind: string;
  readonly added: number;
  readonly known: number;
  /** What was there and is written anew: its name, then line by line what it was and what it is. */
  readonly changes?: readonly Change[];
  /** What had to be guessed, with its line. */
  readonly doubts?: readonly { readonly line: number; readonly text: string }[];
  /** What is worth a look though it was taken in. */
  readonly notices?: readonly string[];
};

type Change = {
  readonly line: number;
  readonly name: string;
  readonly lines: readonly string[];
  readonly parts: readonly PartChange[];
};

export const importedLines = (imported: readonly Imported[]): string =>
  imported
    .map(
      ({ file, kind, added, known }) =>
        `${clean(file)}: ${added} ${kind} written, ${known} already as they are\n`,
    )
    .join('');

/** So many are told one by one; of more, how many they are. */
const MOST_CHANGES = 20;

export function changesText(imported: readonly Imported[]): string {
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

export const previewText = (imported: readonly Imported[]): string =>
  `${imported
    .map(({ file, kind, added, known, changes = [] }) => {
      const [fresh, anew] = [added - changes.length, changes.length];
      return `${clean(file)}: ${fresh} ${kind} new, ${anew} changed, ${known} the same; nothing is written\n`;
    })
    .join('')}${changesText(imported)}`;

/** One document a file; a list of them for several. */
export function previewJson(imported: readonly Imported[]): unknown {
  const all = imported.map(({ file, added, known, changes = [], doubts = [] }) => ({
    file,
    rows: added + known,
    new: added - changes.length,
    changed: changes.flatMap(({ line, name, parts }) =>
      parts.map(({ what, from, to }) => ({ line, what: `${name}: ${what}`, from, to })),
    ),
    same: known,
    doubts,
  }));
  return all.length === 1 ? all[0] : all;
}

type Row = { readonly line: number; readonly id: string };
type Wanted = {
  readonly drafts: readonly EventDraft[];
  readonly rows: readonly Row[];
  readonly doubts?: Imported['doubts'];
  readonly notices?: readonly string[];
};

export const importItems = (context: Context, store: Store, text: string) =>
  importCatalogue(context, store, 'items', (books) => {
    const read = readItemRows(text, books);
    if (!read.ok) return read;
    const drafts = intendEach(books, read.value, (so, { item }) => intendItem(so, item));
    const rows = read.value.map(({ item, line }) => ({ line, id: item.id }));
    return drafts.ok ? done({ drafts: drafts.value, rows }) : drafts;
  });

export const importSpecs = (context: Context, store: Store, text: string) =>
  importCatalogue(context, store, 'specs', (books) => {
    const read = readSpecRows(text, books);
    if (!read.ok) return read;
    const drafts = intendSpecs(
      books,
      read.value.map(({ spec }) => spec),
    );
    const rows = read.value.map(({ spec, line }) => ({ line, id: spec.id }));
    return drafts.ok ? done({ drafts: drafts.value, rows }) : drafts;
  });

export const importSuppliers = (context: Context, store: Store, text: string) =>
  importCatalogue(context, store, 'suppliers', (books) => {
    const read = readSupplierRows(text, books);
    if (!read.ok) return read;
    const drafts = intendEach(books, read.value, (so, { supplier }) => intendSupplier(so, supplier));
    const rows = read.value.map(({ supplier, line }) => ({ line, id: supplier.id }));
    return drafts.ok ? done({ drafts: drafts.value, rows }) : drafts;
  });

/** A spreadsheet in any layout; `said` is what is which of its columns, where somebody said. */
export const importSheet = (context: Context, store: Store, sheet: Sheet, said: string | null) =>
  importCatalogue(context, store, 'items', (books) => {
    const taken = takeSheet(sheet, books, said);
    if (!taken.ok) return taken;
    const { items, suppliers, doubts, problems, layout, kept } = taken.value;
    if (problems.length > 0) return refuseAll(problems);
    const things = items.map(({ item }) => item);
    const drafts = intendSheet(books, { items: things, suppliers }, headingKey(layout), kept);
    if (!drafts.ok) return drafts;
    const rows = items.map(({ item, line }) => ({ line, id: item.id }));
    return done({ drafts: drafts.value, rows, doubts, notices: sheet.notices });
  });

/** What drafts would write anew of what stands in the books. */
function changesOf({ drafts, rows }: Wanted, books: Books): Change[] {
  const lineOf = new Map(rows.map(({ id, line }) => [id, line]));
  return drafts.flatMap((draft): Change[] => {
    if (draft.kind === 'item-written') {
      const before = books.items.get(draft.item.id);
      if (before === undefined) return [];
      const [lines, parts] = [itemChanges(before, draft.item, books), itemParts(before, draft.item, books)];
      return [{ line: lineOf.get(draft.item.id) ?? 1, name: before.name, lines, parts }];
    }
    const before = draft.kind === 'spec-written' ? books.specs.get(draft.spec.id) : undefined;
    if (before === undefined || draft.kind !== 'spec-written') return [];
    const [lines, parts] = [specChanges(before, draft.spec, books), specParts(before, draft.spec, books)];
    return [{ line: lineOf.get(draft.spec.id) ?? 1, name: before.name, lines, parts }];
  });
}

const thingsOf = { items: 'item-written', specs: 'spec-written', suppliers: 'supplier-written' } as const;

function importCatalogue(
  context: Context,
  store: Store,
  kind: keyof typeof thingsOf,
  read: (books: Books) => Result<Wanted>,
): Result<Omit<Imported, 'file'>> {
  let wanted: Wanted = { drafts: [], rows: [] };
  let changes: Change[] = [];
  let past = '';
  const asked = (books: Books): Result<readonly EventDraft[]> => {
    const asks = read(books);
    if (!asks.ok) return asks;
    wanted = asks.value;
    changes = changesOf(wanted, books);
    const written = wanted.drafts.flatMap((draft) => (draft.kind === 'item-written' ? [draft.item] : []));
    past = pastTargetText(movedPast(written, books), books.house.targetPercent);
    return done(wanted.drafts);
  };
  const recorded = hasFlag(context, 'preview') ? asked(store.books()) : store.record(asked, context.at);
  if (!recorded.ok) return recorded;
  const items = recorded.value.flatMap((event) => (event.kind === 'item-written' ? [event.item] : []));
  const added = recorded.value.filter(({ kind: one }) => one === thingsOf[kind]).length;
  const doubts = wanted.doubts ?? [];
  const today = new Date(context.world.now()).toISOString().slice(0, 10);
  const notices = [
    ...(wanted.notices ?? []),
    ...doubts.map(({ line, text }) => `line ${line}: ${text}`),
    ...items.flatMap((item) => [fillNotice(item, today) ?? [], allergenDoubts(item)].flat()),
    ...kindDoubts(items, store.books()),
    ...(past === '' ? [] : [past]),
  ];
  return done({ kind, added, known: wanted.rows.length - added, changes, doubts, notices });
}
