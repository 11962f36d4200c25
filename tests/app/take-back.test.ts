// One way back for everything: each kind of event is done, taken back and restored; nothing is erased.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { Books } from '../../src/domain/ledger/books.ts';
import { type EventKind, eventSchema } from '../../src/domain/ledger/event.ts';
import { counted, type Night } from '../support/night.ts';

/** All of the books as plain data; which event was folded last says nothing about them. */
const plain = (books: Books): string =>
  JSON.stringify({ ...books, last: null }, (_, value: unknown) =>
    value instanceof Map ? [...value].sort(([a], [b]) => (String(a) < String(b) ? -1 : 1)) : value,
  );

async function evening(): Promise<Night> {
  const night = await counted({ 'dry-gin': '3.0' });
  night.later(10);
  return night;
}
const marked = async (): Promise<Night> => {
  const night = await evening();
  await night.ok('out mark lemon --why wilted');
  night.later(1);
  return night;
};

const opened = async (): Promise<Night> => {
  const night = await evening();
  await night.ok('open --by Ines');
  await night.ok('pour 1 rye-lamp');
  night.later(10);
  return night;
};
const sealed = async (): Promise<Night> => {
  const night = await opened();
  await night.ok('count dry-gin 2.9');
  await night.ok('close --seal');
  night.later(10);
  return night;
};
async function file(night: Night, name: string, text: string): Promise<string> {
  const path = join(night.folder, name);
  writeFileSync(path, text);
  return path;
}

type Case = readonly [start: () => Promise<Night>, work: (night: Night) => Promise<unknown>];
const cases: Readonly<
  Record<Exclude<EventKind, 'event-taken-back' | 'shift-sealed' | 'place-renamed'>, Case>
> = {
  'house-set': [evening, (night) => night.ok('house dash 0.8')],
  'item-written': [
    evening,
    async (night) =>
      night.ok('import', await file(night, 'i.csv', 'id,name,kind,size\nrum,White rum,spirit,700 ml\n')),
  ],
  'order-placed': [evening, (night) => night.ok('order --place')],
  'order-received': [
    async () => {
      const night = await evening();
      await night.ok('order --place');
      night.later(1);
      return night;
    },
    async (night) => {
      const [order] = await night.json<{ order: string; lines: { item: string }[] }[]>('order --open');
      // Nothing of it came: the order alone is closed.
      return night.ok(
        'receive --order',
        order?.order ?? '',
        ...(order?.lines ?? []).map(({ item }) => `${item}=0`),
      );
    },
  ],
  'night-expected': [evening, (night) => night.ok('expect 2026-12-31 1.8 New Year')],
  'supplier-written': [
    evening,
    async (night) =>
      night.ok('import', await file(night, 'w.csv', 'name,order_days,delivery_days\nQuay Drinks,mon,tue\n')),
  ],
  'sheet-matched': [
    evening,
    async (night) =>
      night.ok(
        'import',
        await file(night, 'p.csv', 'Product,Pack,Price\nDry gin,,\n'),
        '--columns',
        'cost=Price',
      ),
  ],
  'spec-written': [
    evening,
    async (night) =>
      night.ok(
        'import',
        await file(night, 's.txt', '# Gin Rinse\nfamily: straight\n20 ml dry gin\ndo: pour\n'),
      ),
  ],
  'person-added': [evening, (night) => night.ok('people add Jonas')],
  'person-left': [evening, (night) => night.ok('people leave Mara')],
  'shift-opened': [evening, (night) => night.ok('open --by Ines')],
  'handed-over': [
    opened,
    async (night) => {
      const { openRooms } = await import('../support/rooms.ts');
      night.store((store) => openRooms(store, night.world.now).press('ctrl-p', '2'));
    },
  ],
  'drink-poured': [opened, (night) => night.ok('pour 2 lantern-sour')],
  'measure-poured': [opened, (night) => night.ok('pour 45ml', 'dry gin')],
  'prep-made': [
    async () => {
      const night = await opened();
      await night.ok(
        'import',
        await file(
          night,
          'p.txt',
          '# Gin Mix\nmakes: 500 ml simple syrup\nkeeps: 3 days\n100 ml dry gin\n400 ml water\n',
        ),
      );
      return night;
    },
    (night) => night.ok('make', 'Gin Mix'),
  ],
  'stock-lost': [opened, (night) => night.ok('lose 50ml dry-gin --why spill')],
  'delivery-received': [opened, (night) => night.ok('receive 6 dry-gin --cost 20.00')],
  'stock-moved': [opened, (night) => night.ok('move 1 dry-gin --from bar --to cellar')],
  'bottle-opened': [
    opened,
    async (night) => {
      const { openRooms } = await import('../support/rooms.ts');
      night.store((store) => openRooms(store, night.world.now).press('tab', 'dry', 'enter', 'enter'));
    },
  ],
  'stock-counted': [opened, (night) => night.ok('count dry-gin 2.5')],
  'note-written': [opened, (night) => night.ok('note', 'ice machine out')],
  'report-corrected': [sealed, (night) => night.ok('correct 60ml dry-gin --what poured --why found')],
  'drink-sold': [
    opened,
    async (night) =>
      night.ok('import', await file(night, 't.csv', 'time,drink,quantity\n2026-11-20 17:15,Rye Lamp,1\n')),
  ],
  'till-name-matched': [opened, (night) => night.ok('match', 'RYE L', 'rye lamp')],
  'readings-compared': [opened, (night) => night.ok('drill dry-gin 0.6 812g --by Ines')],
  'marked-out': [evening, (night) => night.ok('out mark lemon --why wilted')],
  'marked-back': [marked, (night) => night.ok('out back lemon')],
  'mise-ticked': [evening, (night) => night.ok('ready tick shaker')],
  'mise-edited': [evening, (night) => night.ok('ready add towels')],
};

/** What a person sees beside the books: reports with their evidence. */
const seen = async (night: Night): Promise<string> => {
  const { out } = await night.run('report --json');
  return out + plain(night.books());
};

it.each(Object.entries(cases))(
  '%s: done, taken back, restored, and the store only grew',
  async (kind, [start, work]) => {
    const night = await start();
    const before = await seen(night);
    const events = () => night.store((store) => [...store.allEvents()]);
    const known = new Set(events().map(({ id }) => id));
    await work(night);
    const after = await seen(night);
    expect(after).not.toBe(before);
    const made = events().find(({ id }) => !known.has(id));
    expect(made?.kind).toBe(kind);
    night.later(1);
    const back = await night.json<{ id: string }>('undo', made?.id as string);
    expect(await seen(night)).toBe(before);
    const twice = await night.run('undo', made?.id as string);
    expect([twice.exit, twice.err]).toEqual([65, expect.stringContaining('was taken back before')]);
    night.later(1);
    await night.ok('undo', back.id);
    expect(await seen(night)).toBe(after);
    expect(events()).toHaveLength(known.size + 3);
  },
);

it('knows every kind of event there is; a seal and the name of a place stay, and say so', async () => {
  const kinds = eventSchema.def.options.map(
    (option) => (option.shape.kind as { def: { values: string[] } }).def.values[0],
  );
  expect([...Object.keys(cases), 'event-taken-back', 'place-renamed', 'shift-sealed'].sort()).toEqual(
    [...kinds].sort(),
  );
  const night = await sealed();
  const seal = night.store((store) => [...store.allEvents()].find(({ kind }) => kind === 'shift-sealed'));
  const refused = await night.run('undo', seal?.id as string);
  expect([refused.exit, refused.err]).toEqual([65, expect.stringContaining('sealed shift and stays')]);
});
