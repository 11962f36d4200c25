// What the lines that are written say: a card, an item, a person, a setting; what it would change, or what is wrong.
import { itemChanges, lineChanges, specChanges } from '../../../domain/card/card-changes.ts';
import { readItemLines } from '../../../domain/card/item-lines.ts';
import { readSpecs } from '../../../domain/card/spec-card.ts';
import { readSupplierLines, supplierLines, supplierText } from '../../../domain/card/supplier-card.ts';
import { checkSetting, settings, settingValues } from '../../../domain/catalogue/house.ts';
import type { Item } from '../../../domain/catalogue/item.ts';
import type { Spec } from '../../../domain/catalogue/spec.ts';
import { movedPast, pastTargetText } from '../../../domain/drink/target.ts';
import { intendRename } from '../../../domain/intent/intend-change.ts';
import {
  intendItem,
  intendPersonAdded,
  intendPersonLeft,
  intendSetting,
  intendSpec,
  intendSupplier,
} from '../../../domain/intent/intend-house.ts';
import type { Intent } from '../../../domain/intent/intent.ts';
import { type Books, stockOf } from '../../../domain/ledger/books.ts';
import { isCountedInPieces } from '../../../domain/ledger/stock/containers.ts';
import { isKnownKind } from '../../../domain/search/kind-doubt.ts';
import type { ItemId, PersonId, SpecId, SupplierId } from '../../../domain/value/ids.ts';
import { done, type Problem } from '../../../domain/value/problem.ts';
import type { DialogOf } from '../../../screens/dialog.ts';

export type Read = {
  readonly spec: Spec | null;
  readonly item: Item | null;
  /** What is to be read beside the lines. */
  readonly said: readonly string[];
  /** What is gone and what is new, so that nothing is replaced unseen. */
  readonly changes: readonly string[];
  readonly problems: readonly Problem[];
  readonly intent: Intent;
};

export const nothingRead: Read = {
  spec: null,
  item: null,
  said: [],
  changes: [],
  problems: [],
  intent: () => done([]),
};
const wrong = (problems: readonly Problem[]): Read => ({ ...nothingRead, problems });
const wrongLine = (line: number, message: string): Read =>
  wrong([{ code: 'bad-line', exit: 65, line, message }]);

/** What would be replaced unseen. */
export const exists: Problem = {
  code: 'exists',
  exit: 65,
  message: 'There is one of that name. Mark it in the Book and press ^N to write it anew.',
};

export const outOfUse: Problem = {
  ...exists,
  message:
    'There is one of that name, out of use. Type "retired" in the Book, mark it and press ^N to bring it back.',
};

type Reader = (books: Books, text: string, was: string | null) => Read;

const item: Reader = (books, text, was) => {
  const read = readItemLines(text, books, was);
  if (!read.ok) return wrong(read.problems);
  const { name, kind, sizeText, place } = read.value;
  const before = was === null ? undefined : books.items.get(was as ItemId);
  return {
    ...nothingRead,
    item: read.value,
    said: [
      `${name}, ${kind}, ${sizeText}, at ${place}`,
      ...kindText(books, read.value),
      moreLines(text),
      ...resizedText(books, before, read.value),
      pastTargetText(movedPast([read.value], books), books.house.targetPercent),
    ].filter((one) => one !== ''),
    changes: before === undefined ? [] : itemChanges(before, read.value, books),
    intent: (so) => intendItem(so, read.value),
  };
};

/** Lines an item may have and this one has not, so that nobody must know them. */
function moreLines(text: string): string {
  const has = (name: string): boolean => new RegExp(`^\\s*${name}\\s*:`, 'im').test(text);
  const more = [
    'par',
    'supplier',
    'code',
    'case',
    'keeps',
    'opened',
    'yields',
    'prices',
    'shelf',
    'also',
  ].filter((name) => !has(name));
  return more.length === 0 ? '' : `may also say: ${more.join(', ')}`;
}

/** A kind is a word of the house; one that nothing else has may be a slip. */
const kindText = (books: Books, { id, kind }: Item): string[] =>
  isKnownKind(kind) || [...books.items.values()].some((one) => one.kind === kind && one.id !== id)
    ? []
    : [`The kind "${kind}" is new here, and kept as written.`];

/** Another size: what stands sealed was filled in the old one, and nobody can see from here whether the size was only wrong. */
function resizedText(books: Books, before: Item | undefined, after: Item): string[] {
  if (before === undefined || before.size === after.size || isCountedInPieces(before)) return [];
  const sealed = stockOf(books, before.id).reduce((sum, stock) => sum + stock.sealed, 0);
  if (sealed === 0) return [];
  return [
    `${sealed} sealed ${sealed === 1 ? 'one stays' : 'ones stay'} in stock at ${before.sizeText} each. If they hold ${after.sizeText}, count them after this.`,
  ];
}

const spec: Reader = (books, text, was) => {
  // A card that is written anew keeps its id, whatever it is called now.
  const others =
    was === null ? books : { ...books, specs: new Map([...books.specs].filter(([id]) => id !== was)) };
  const read = readSpecs(text, others);
  if (!read.ok) return wrong(read.problems);
  const [first, more] = read.value;
  if (first === undefined || more !== undefined)
    return wrong([
      { code: 'bad-spec', exit: 65, message: 'Write one card at a time, with one name after the #.' },
    ]);
  const card = was === null ? first : { ...first, id: was as SpecId };
  const before = was === null ? undefined : books.specs.get(was as SpecId);
  return {
    ...nothingRead,
    spec: card,
    changes: before === undefined ? [] : specChanges(before, card, books),
    intent: (so) => intendSpec(so, card),
  };
};

/** "name: value" lines, each of the names at most once. */
function fieldsOf(text: string, names: readonly string[]): ReadonlyMap<string, string> | Read {
  const fields = new Map<string, string>();
  for (const [at, row] of text.split('\n').entries()) {
    if (row.trim() === '') continue;
    const [, name = '', value = ''] = /^\s*([a-z-]+)\s*:\s*(.*)$/i.exec(row) ?? [];
    if (!names.includes(name.toLowerCase()))
      return wrongLine(
        at + 1,
        `"${row.trim().slice(0, 30)}" is no line of this. Known are ${names.join(', ')}.`,
      );
    fields.set(name.toLowerCase(), value.trim());
  }
  return fields;
}

const isRead = (fields: ReadonlyMap<string, string> | Read): fields is Read => 'problems' in fields;

const person: Reader = (books, text, was) => {
  const fields = fieldsOf(text, ['name', 'here']);
  if (isRead(fields)) return fields;
  const [name, here] = [fields.get('name') ?? '', (fields.get('here') ?? 'yes').toLowerCase()];
  if (name === '') return wrongLine(1, 'A name is missing. Write name: Ines.');
  if (!/^(yes|no)$/.test(here)) return wrongLine(2, 'Write here: yes, or here: no for who has left.');
  const before = was === null ? undefined : books.people.get(was as PersonId);
  const stays = here === 'yes';
  const said = [stays ? `${name} works here` : `${name} has left; what was poured stays in every report`];
  if (before === undefined) return { ...nothingRead, said, intent: (so) => intendPersonAdded(so, name) };
  const changes = [
    ...(before.name === name ? [] : [`− name: ${before.name}`, `+ name: ${name}`]),
    ...(before.here === stays ? [] : [`${stays ? '+' : '−'} works here`]),
  ];
  return { ...nothingRead, said, changes, intent: (so) => changePerson(so, before.id, name, stays) };
};

/** A new name first; who comes back is added under the name they have then. */
function changePerson(books: Books, id: PersonId, name: string, stays: boolean): ReturnType<Intent> {
  const known = books.people.get(id);
  if (known === undefined) return done([]);
  const renamed = known.name === name ? done([]) : intendRename(books, 'person', known.name, name);
  if (!renamed.ok || known.here === stays) return renamed;
  if (!stays) {
    const left = intendPersonLeft(books, known.name);
    return left.ok ? done([...renamed.value, ...left.value]) : left;
  }
  return renamed.value.length > 0 ? renamed : intendPersonAdded(books, name);
}

const supplier: Reader = (books, text, was) => {
  const read = readSupplierLines(text, books, was);
  if (!read.ok) return wrong(read.problems);
  const before = was === null ? undefined : books.suppliers.get(was as SupplierId);
  if (was === null && books.suppliers.has(read.value.id)) return wrong([exists]);
  return {
    ...nothingRead,
    said: supplierText(read.value, books),
    changes:
      before === undefined ? [] : lineChanges(supplierLines(before, books), supplierLines(read.value, books)),
    intent: (so) => intendSupplier(so, read.value),
  };
};

const place: Reader = (books, text, was) => {
  const old = was ?? '';
  const fields = fieldsOf(text, ['name']);
  if (isRead(fields)) return fields;
  const name = (fields.get('name') ?? '').toLowerCase();
  const renamed = intendRename(books, 'place', old, name);
  if (!renamed.ok) return wrong(renamed.problems.map((problem) => ({ ...problem, line: 1 })));
  return {
    ...nothingRead,
    said: ['Its stock, its counts and its past go with it.'],
    changes: name === old ? [] : [`− name: ${old}`, `+ name: ${name}`],
    intent: (so) => intendRename(so, 'place', old, name),
  };
};

const setting: Reader = (books, text, was) => {
  const key = was ?? '';
  const fields = fieldsOf(text, [key]);
  if (isRead(fields)) return fields;
  const value = fields.get(key) ?? '';
  const known = settings.find((one) => one.key === key);
  const said = known === undefined ? [] : [known.says, `takes ${known.accepts}`];
  const checked = checkSetting(key, value);
  if (!checked.ok) return wrong(checked.problems.map((problem) => ({ ...problem, line: 1 })));
  const before = settingValues(books.settings).find((one) => one.key === key)?.value ?? '';
  const changes = before === value ? [] : [`− ${key}: ${before}`, `+ ${key}: ${value}`];
  return { ...nothingRead, said, changes, intent: (so) => intendSetting(so, key, value) };
};

export const readers: Readonly<Record<DialogOf<'write'>['what'], Reader>> = {
  item,
  spec,
  person,
  supplier,
  place,
  setting,
};
