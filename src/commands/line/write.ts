// --write: single lines of an item or a card changed from a script, or a new one written.
import { itemWithLines, specWithLines } from '../../domain/card/line-edits.ts';
import { intendItem, intendSpec } from '../../domain/intent/intend-house.ts';
import type { Context, Flag, Outcome } from './command.ts';
import { recordWith } from './record.ts';

export const writeFlag = (says: string): Flag => ({ name: 'write', takes: 'LINE', says, many: true });

/** What `--write` wants of an item; null when it was not given. */
export function writeItem(context: Context): Promise<Outcome> | null {
  const lines = context.flags.get('write');
  if (lines === undefined) return null;
  return recordWith(context, (books) => {
    const read = itemWithLines(books, context.words.join(' '), lines);
    return read.ok ? intendItem(books, read.value) : read;
  });
}

/** The same of a card. */
export function writeSpec(context: Context): Promise<Outcome> | null {
  const lines = context.flags.get('write');
  if (lines === undefined) return null;
  return recordWith(context, (books) => {
    const read = specWithLines(books, context.words.join(' '), lines);
    return read.ok ? intendSpec(books, read.value) : read;
  });
}
