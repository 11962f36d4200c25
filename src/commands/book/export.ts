// export: the books in plain formats, and starter files to fill in. What stands there filled in is never written over.

import { starterSpecs, writeSpecs } from '../../domain/card/spec-card.ts';
import { clean } from '../../domain/value/text.ts';
import { eventJsonSchema, writeEvent } from '../../exchange/file/event-lines.ts';
import { starterItems, writeItems } from '../../exchange/file/item-csv.ts';
import { writeSuppliers } from '../../exchange/file/supplier-csv.ts';
import { reportText } from '../../exchange/print/report-text.ts';
import { reportOfShift } from '../../store/reports.ts';
import type { Store } from '../../store/store.ts';
import {
  type Command,
  type Context,
  flagOf,
  hasFlag,
  type Outcome,
  refused,
  say,
  sayExact,
  usageProblem,
  withStore,
} from '../line/command.ts';

export const exportFiles: Command = {
  name: 'export',
  usage: ['export items|specs|suppliers|events|report [--out FILE] [--starter] [--schema]'],
  says: 'the same formats back; import of an export gives equal books',
  examples: [
    'export items --out items.csv',
    'export items --starter --out items.csv',
    'export events --schema',
  ],
  flags: [
    { name: 'out', takes: 'FILE', says: 'writes to a file instead of the screen' },
    { name: 'starter', says: 'a small file to fill in (items, specs)' },
    { name: 'schema', says: 'the JSON Schema of events' },
  ],
  run: (context) => {
    const [what] = context.words;
    if (what === 'events' && hasFlag(context, 'schema')) return deliver(context, eventJsonSchema());
    if (what === 'items' && hasFlag(context, 'starter')) return deliver(context, starterItems);
    if (what === 'specs' && hasFlag(context, 'starter')) return deliver(context, starterSpecs);
    if (
      what !== 'items' &&
      what !== 'specs' &&
      what !== 'suppliers' &&
      what !== 'events' &&
      what !== 'report'
    )
      return usageProblem('Say what to export: items, specs, suppliers, events or report.');
    return withStore(context, (store) => deliver(context, textOf(store, what)));
  },
};

function textOf(store: Store, what: 'items' | 'specs' | 'suppliers' | 'events' | 'report'): string {
  const books = store.books();
  if (what === 'items') return writeItems(books);
  if (what === 'specs') return writeSpecs(books);
  if (what === 'suppliers') return writeSuppliers(books);
  if (what === 'events') return [...store.allEvents()].map(writeEvent).join('');
  const reported = books.shift === null ? null : reportOfShift(store, books.shift.id);
  return reported === null ? 'No shift was ever opened.\n' : reportText(reported.report, books);
}

function deliver(context: Context, text: string): Outcome {
  const out = flagOf(context, 'out');
  if (out === undefined) return sayExact(text);
  // A starter file filled in is an evening's work: it is never written over.
  if (hasFlag(context, 'starter') && context.world.readFile(out).ok) {
    return refused([
      {
        code: 'exists',
        exit: 73,
        message: `${clean(out)} exists and may be filled in already. Give another name with --out.`,
      },
    ]);
  }
  const written = context.world.writeFile(out, text);
  return written.ok ? say(`Wrote ${clean(out)}.`) : refused(written.problems);
}
