// What a room asks for when something is to be written: a new card with a name, or one that stands, to be written anew.
import { newItemLines, writeItemLines } from '../domain/card/item-lines.ts';
import { writeCard } from '../domain/card/spec-card.ts';
import { newSupplier, supplierLines } from '../domain/card/supplier-card.ts';
import type { Person } from '../domain/catalogue/catalogue.ts';
import type { Item } from '../domain/catalogue/item.ts';
import type { Spec } from '../domain/catalogue/spec.ts';
import type { Supplier } from '../domain/catalogue/supplier.ts';
import type { Books } from '../domain/ledger/books.ts';
import type { DialogOf } from './dialog.ts';

type Write = DialogOf<'write'>;

const from = (what: Write['what'], text: string, was: string | null, pours: number | null): Write => ({
  kind: 'write',
  what,
  text,
  at: text.length,
  column: null,
  was,
  pours,
});

/** "night heron" as a name on a card: each word with a capital, where nobody gave it one. */
const titled = (name: string): string => name.replace(/(^|\s)(\p{Ll})/gu, (all) => all.toUpperCase());

/** A new drink by its name, ready for its first measure. */
export const newSpec = (name: string, pours: number | null): Write => {
  const text = name === '' ? '# ' : `# ${titled(name)}\n`;
  return from('spec', text, null, pours);
};
/** A new card that makes an item: what, how long that keeps, and then what goes in. */
export const newPrep = (name: string): Write =>
  atFirstEmpty(from('spec', `# ${titled(name)}\nmakes: \nkeeps: \n`, null, null));
/** A new item, where its first empty line ends. */
export function newItem(name: string): Write {
  return atFirstEmpty(from('item', newItemLines(titled(name)), null, null));
}

/** The next character goes where something is still to be said. */
function atFirstEmpty(write: Write): Write {
  const empty = /: $/m.exec(write.text);
  return { ...write, at: empty === null ? write.text.length : empty.index + 2 };
}

/** A person in lines: the name, and whether they still work here. */
export const newPerson = (name: string): Write =>
  from('person', `name: ${titled(name)}\nhere: yes`, null, null);
export const oldPerson = ({ id, name, here }: Person): Write =>
  from('person', `name: ${name}\nhere: ${here ? 'yes' : 'no'}`, id, null);
export const oldSupplier = (supplier: Supplier, books: Books): Write =>
  from('supplier', supplierLines(supplier, books), supplier.id, null);
export const freshSupplier = (name: string, books: Books): Write =>
  atFirstEmpty(from('supplier', supplierLines(newSupplier(titled(name)), books), null, null));
export const oldPlace = (place: string): Write => from('place', `name: ${place}`, place, null);
/** A setting is one line: its key, and its value to be mended. */
export const oldSetting = (key: string, value: string): Write =>
  from('setting', `${key}: ${value}`, key, null);
export const oldSpec = (spec: Spec, books: Books): Write =>
  from('spec', writeCard(spec, books).trimEnd(), spec.id, null);
export const oldItem = (item: Item, books: Books): Write =>
  from('item', writeItemLines(item, books), item.id, null);
