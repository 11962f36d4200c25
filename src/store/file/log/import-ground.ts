// What an import is held against: what is named must be there, before and after, and what is sealed stays.
import { checkSetting } from '../../../domain/catalogue/house.ts';
import { linesOf } from '../../../domain/drink/measures.ts';
import { type Ground, sealText, standsOn } from '../../../domain/intent/moment.ts';
import type { Books } from '../../../domain/ledger/books.ts';
import { besideKinds, type Event } from '../../../domain/ledger/event.ts';
import { itemsOf, namesOf } from '../../../domain/ledger/event-names.ts';
import type { EventId, ItemId } from '../../../domain/value/ids.ts';
import type { Problem } from '../../../domain/value/problem.ts';
import type { NumberedEvent, Rows } from './rows.ts';

export type Said = Omit<Problem, 'exit' | 'line'>;
export type SayOf = (event: Pick<NumberedEvent, 'number'>, problem: Said) => void;

/** What came in of take-backs, and from which number on everything is new. */
export type CameIn = {
  readonly start: number;
  readonly takeBacks: readonly { readonly number: number; readonly target: EventId }[];
};

export type ImportGround = Ground & { readonly known: (event: Event) => Said | null };

export function groundOfImport(rows: Rows, books: Books, now: string): ImportGround {
  const opened = new Map(
    rows
      .shiftMarks(-1, new Set())
      .flatMap(({ id, at, date }) => (date === null ? [] : [[id, { openedAt: at }]])),
  );
  const items = new Map<ItemId, string>();
  const [specs, people] = [new Set<string>(), new Set<string>()];
  for (const event of rows.catalogue()) {
    if (event.kind === 'item-written' && !items.has(event.item.id)) items.set(event.item.id, event.at);
    else if (event.kind === 'spec-written') specs.add(event.spec.id);
    else if (event.kind === 'person-added') people.add(event.person);
  }
  const lacks = (what: string, id: string): Said => ({
    code: 'no-parent',
    message: `This names the ${what} "${id}", which is neither in the books nor in the file. Import the whole export.`,
  });
  return {
    now,
    sealedUntil: books.sealedUntil,
    sealed: sealText(books),
    knownSince: (item) => items.get(item) ?? null,
    shift: (id: EventId) => opened.get(id) ?? null,
    known: (event) => {
      const named = namesOf(event);
      const spec = named.specs.find((id) => !specs.has(id));
      if (spec !== undefined) return lacks('card', spec);
      const person = named.people.find((id) => !people.has(id));
      if (person !== undefined) return lacks('person', person);
      const item = named.items.find((id) => !items.has(id));
      if (item !== undefined) return lacks('item', item);
      const shift = named.shifts.find((id) => !opened.has(id));
      return shift === undefined ? null : lacks('shift', shift);
    },
  };
}

/** What stood in these books before, and has lost its shift, item, card or person by what came in. */
export const isUprooted = (event: Event, ground: ImportGround): boolean =>
  standsOn(event, itemsOf(event), ground) !== null || ground.known(event) !== null;

/** What a file takes back of these books is held to what is taken back by hand: what is sealed stays. */
export function sealedStays(
  rows: Rows,
  id: EventId,
  { start, takeBacks }: CameIn,
  { sealedUntil, now }: Pick<Ground, 'sealedUntil' | 'now'>,
  say: SayOf,
): void {
  const row = rows.byId(id);
  const by = takeBacks.find(({ target }) => target === id) ?? takeBacks[0];
  if (row === undefined || row.number > start || by === undefined || sealedUntil === null) return;
  const event = JSON.parse(row.body) as Pick<Event, 'kind' | 'at'>;
  const ranAhead = event.kind === 'shift-sealed' && event.at > now;
  if (besideKinds.has(event.kind) || event.at > sealedUntil || ranAhead) return;
  say(by, {
    code: 'sealed',
    message:
      'This takes back what lies in a sealed shift of these books, and what is sealed stays. Take the line out.',
  });
}

/** A card that says what nobody can pour, by what came in of it or of an item it measures; what was so before stays. */
export function checkCards(
  before: Books,
  after: Books,
  written: ReadonlyMap<string, number>,
  say: SayOf,
): void {
  if (written.size === 0) return;
  for (const spec of after.specs.values()) {
    const lines = linesOf(spec.measures, after);
    const old = before.specs.get(spec.id);
    if (lines.ok || (old !== undefined && !linesOf(old.measures, before).ok)) continue;
    const named = [spec.id, ...spec.measures.map(({ item }) => item)];
    const number = named.map((id) => written.get(id)).find((one) => one !== undefined);
    const [first] = lines.problems;
    if (number !== undefined && first !== undefined)
      say({ number }, { code: 'bad-card', message: `${spec.name}: ${first.message}` });
  }
}

/** A setting that nobody could set; what stands in older books is left as it is. */
export function badSetting(event: Event): Said | null {
  if (event.kind !== 'house-set') return null;
  const setting = checkSetting(event.key, event.value);
  return setting.ok ? null : (setting.problems[0] ?? null);
}
