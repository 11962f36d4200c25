// import: files of the house and of the till. A file goes in whole or not at all.

import type { EventDraft } from '../../domain/ledger/event.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { csvHeader } from '../../exchange/file/csv.ts';
import { isItemsHeader } from '../../exchange/file/item-csv.ts';
import { decodeText } from '../../exchange/file/read-text.ts';
import { isSalesHeader, readSales, type Sales, saleIdAt } from '../../exchange/file/sales-csv.ts';
import { readSheet } from '../../exchange/file/sheet.ts';
import { isSuppliersHeader } from '../../exchange/file/supplier-csv.ts';
import type { Store } from '../../store/store.ts';
import {
  type Command,
  type Context,
  flagOf,
  hasFlag,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';
import {
  changesText,
  type Imported,
  importedLines,
  importItems,
  importSheet,
  importSpecs,
  importSuppliers,
  previewJson,
  previewText,
} from './import-catalogue.ts';

export const importFiles: Command = {
  name: 'import',
  usage: ['import FILE… [--columns OURS=THEIRS,…] [--preview]'],
  says: 'items, suppliers (.csv), spec cards (.txt), a spreadsheet of what you stock (.xlsx, .csv in any layout), till sales (.csv) or events (.jsonl); whole or not at all, twice is harmless',
  examples: [
    'import items.csv specs.txt',
    'import till-friday.csv',
    'import prices.xlsx --preview',
    'import prices.xlsx --columns name=Product,size=Pack,cost=Net',
  ],
  flags: [
    {
      name: 'columns',
      takes: 'OURS=THEIRS,…',
      says: 'which of its columns is which of ours; kept for spreadsheets with the same headings',
    },
    {
      name: 'preview',
      says: 'what of items or cards is new and what changes, old and new; nothing is written',
    },
  ],
  run: (context) => {
    if (context.words.length === 0) return usageProblem('Name a file, as ullage import items.csv.');
    return withStore(context, async (store) => {
      const imported: Imported[] = [];
      for (const file of context.words) {
        const one = await importOne(context, store, file);
        if (!one.ok)
          return { ...refused(one.problems, file), out: context.json ? '' : importedLines(imported) };
        imported.push({ file, ...one.value });
      }
      const notices = imported.flatMap((one) => one.notices ?? []).map((notice) => `${clean(notice)}\n`);
      if (hasFlag(context, 'preview'))
        return context.json
          ? sayJson(previewJson(imported))
          : { ...say(previewText(imported)), err: notices.join('') };
      const written = `${importedLines(imported)}${changesText(imported)}`;
      return { ...(context.json ? sayJson(imported) : say(written)), err: notices.join('') };
    });
  },
};

type One = Promise<Result<Omit<Imported, 'file'>>> | Result<Omit<Imported, 'file'>>;

async function importOne(context: Context, store: Store, file: string): Promise<Awaited<One>> {
  const isPreview = hasFlag(context, 'preview');
  if (/\.jsonl$/i.test(file)) return isPreview ? noPreview() : importEvents(context, store, file);
  const bytes = context.world.readFile(file);
  if (!bytes.ok) return bytes;
  if (/\.(xlsx|xls|xlsm|ods)$/i.test(file)) return importBytes(context, store, file, bytes.value);
  const text = decodeText(bytes.value, clean(file));
  if (text.ok && /\.txt$/i.test(file)) return importSpecs(context, store, text.value);
  // Of text that is no UTF-8 the header may still be plain.
  const header = csvHeader(
    text.ok ? text.value : new TextDecoder('latin1').decode(bytes.value.subarray(0, 5000)),
  );
  if (isSalesHeader(header)) {
    if (!text.ok) return text;
    return isPreview ? noPreview() : importSales(store, context.at, text.value);
  }
  if (isSuppliersHeader(header)) return text.ok ? importSuppliers(context, store, text.value) : text;
  if (isItemsHeader(header)) return text.ok ? importItems(context, store, text.value) : text;
  if (/\.(csv|tsv)$/i.test(file)) return importBytes(context, store, file, bytes.value);
  if (!text.ok) return text;
  return refuse(
    'unknown-file',
    'It is neither items (.csv), spec cards (.txt), a spreadsheet (.xlsx) nor events (.jsonl). Give it the right ending.',
  );
}

async function importBytes(
  context: Context,
  store: Store,
  file: string,
  bytes: Uint8Array,
): Promise<Awaited<One>> {
  const sheet = await readSheet(bytes, clean(file));
  return sheet.ok ? importSheet(context, store, sheet.value, flagOf(context, 'columns') ?? null) : sheet;
}

const noPreview = () =>
  refuse(
    'no-preview',
    'Only items, spec cards and spreadsheets have a preview. Leave --preview out; it goes in whole or not at all.',
    64,
  );

/** A line that no station of the house recorded yet, under an id of this one. */
function ofStation(store: Store, draft: EventDraft): EventDraft[] {
  const { id } = draft;
  if (draft.kind !== 'drink-sold' || id === undefined || store.isSold(id, draft.soldAt)) return [];
  return [{ ...draft, id: saleIdAt(id, store.station()), line: id }];
}

/** Every line is kept; names no spec answers to are listed with their line, to be matched. */
function importSales(store: Store, at: string | undefined, text: string): Result<Omit<Imported, 'file'>> {
  let sales: Sales = { drafts: [], unknown: [], skipped: [] };
  const recorded = store.record((books, now) => {
    const read = readSales(text, books, now);
    if (!read.ok) return read;
    sales = read.value;
    return done(store.sharesHouse ? sales.drafts.flatMap((draft) => ofStation(store, draft)) : sales.drafts);
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
  const events = context.world.readEvents(file);
  if (!events.ok) return events;
  const outcome = store.importEvents(events.value);
  return outcome.ok ? done({ kind: 'events', ...outcome.value }) : outcome;
}
