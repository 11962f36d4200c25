// The Book's forms: people, settings, what is retired; a new size, a new price and what they do; the rules are those of the commands.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { furnished, stocked } from '../support/night.ts';
import { type Rooms, roomsAt, walkTo } from '../support/rooms.ts';

const within = roomsAt({ columns: 110, rows: 30 });
const inBook = (at: Rooms, word: string): void => {
  walkTo(at, 'book');
  at.press('esc', 'esc', word);
};
/** Takes a line's value away and types another. */
const retype = (at: Rooms, was: string, now: string): void => {
  at.press('end', ...Array.from({ length: was.length }, () => 'backspace'), now);
};

/** Goes to the line that begins so in the field that is open, and writes it anew. */
const rewrite = (at: Rooms, name: string, value: string): void => {
  const dialog = at.state().dialog;
  if (dialog?.kind !== 'write') throw new Error('nothing is being written');
  const rows = dialog.text.split('\n');
  const to = rows.findIndex((row) => row.startsWith(`${name}:`));
  const now = dialog.text.slice(0, dialog.at).split('\n').length - 1;
  at.press(...Array.from({ length: Math.abs(to - now) }, () => (to < now ? 'up' : 'down')));
  retype(at, (rows[to] ?? '').slice(name.length + 2), value);
};
/** To the end of what is written, and saved there. */
const save = (at: Rooms): void => {
  const dialog = at.state().dialog;
  if (dialog?.kind !== 'write') throw new Error('nothing is being written');
  at.press(...dialog.text.split('\n').map(() => 'down'), 'end', 'enter', 'enter');
};

it('somebody new, another name, and who has left; found again under "retired"', async () => {
  const night = await furnished();
  within(night, (at, store) => {
    inBook(at, 'person tom ray');
    at.press('ctrl-n');
    expect(at.screen()).toContain('Tom Ray works here');
    at.press('enter', 'enter', 'enter');
    expect(store.books().people.get('tom-ray' as never)).toMatchObject({ name: 'Tom Ray', here: true });
    inBook(at, 'tom ray');
    at.press('ctrl-n', 'home', 'up');
    retype(at, 'Tom Ray', 'Tomas Ray');
    at.press('enter', 'end');
    retype(at, 'yes', 'no');
    expect(at.screen()).toMatch(/Tomas Ray has left[\s\S]*/);
    at.press('enter', 'enter');
    expect(store.books().people.get('tom-ray' as never)).toMatchObject({ name: 'Tomas Ray', here: false });
    inBook(at, 'retired');
    expect(at.screen()).toContain('Tomas Ray');
    at.press('ctrl-n', 'end');
    retype(at, 'no', 'yes');
    at.press('enter', 'enter');
    expect(store.books().people.get('tom-ray' as never)?.here).toBe(true);
  });
});

it('a setting by its own line, with what it takes beside it', async () => {
  const night = await furnished();
  within(night, (at, store) => {
    inBook(at, 'dash');
    at.press('ctrl-n');
    expect(at.screen()).toContain('takes a number from 0.001 to 1000');
    retype(at, '0.9', 'much');
    expect(at.screen().replace(/\s+/g, ' ')).toContain('line 1: dash takes a number');
    at.press('enter', 'enter');
    expect(store.books().settings.has('dash')).toBe(false);
    // The mark stands at the line that was refused.
    retype(at, 'much', '0.8');
    at.press('enter', 'enter');
    expect(store.books().settings.get('dash')).toBe('0.8');
  });
});

it('what a card needs is not retired, by the form, a file or a command; what is retired comes back from the Book', async () => {
  const night = await furnished();
  within(night, (at, store) => {
    inBook(at, 'straight rye');
    at.press('ctrl-n', 'enter', 'retired: yes', 'enter', 'enter');
    expect(at.state().message?.text).toContain('is a measure of Rye Lamp');
    expect(store.books().items.get('rye' as never)?.retired).toBeUndefined();
    at.press('esc');
    inBook(at, 'rye lamp');
    at.press('ctrl-n', 'enter', 'retired: yes', 'enter', 'enter');
    expect(store.books().specs.get('rye-lamp' as never)?.retired).toBe(true);
    inBook(at, 'rye lamp');
    expect(at.screen()).not.toContain('spec    Rye Lamp');
    // What is out of use is named where it is looked for, by the beginning of its name.
    inBook(at, 'rye la');
    expect(at.screen()).toContain('Rye Lamp is out of use: "retired" brings it back.');
    // What only comes near it is not written anew in its place.
    at.press('ctrl-n');
    expect([at.state().dialog, at.state().message?.tone]).toEqual([null, 'refused']);
    walkTo(at, 'pour');
    at.press('esc', 'rye lamp');
    expect(at.screen().replace(/\s+/g, ' ')).toContain('Rye Lamp is out of use; "retired" in the Book');
    inBook(at, 'retired');
    expect(at.screen()).toContain('Rye Lamp');
  });
  const file = join(night.folder, 'r.csv');
  writeFileSync(file, (await night.ok('export items')).replace(/^(lemon-juice,.*),$/m, '$1,yes'));
  expect(await night.run('import', file)).toMatchObject({
    exit: 65,
    err: expect.stringContaining('is a measure of'),
  });
});

it('a new size leaves what is sealed as it was filled, and says so; a new price says which cards it moves past the target', async () => {
  const night = await stocked('3+0');
  await night.ok('house target-pour-cost 20');
  within(night, (at, store) => {
    inBook(at, 'dry gin');
    at.press('ctrl-n');
    rewrite(at, 'size', '1 l');
    const screen = at.screen().replace(/\s+/g, ' ');
    for (const part of ['3 sealed ones stay in stock at 700 ml each.', 'count them after this.'])
      expect(screen).toContain(part);
    at.press(...Array.from({ length: 20 }, () => 'down'), 'end', 'enter', 'size: 1 l');
    expect(at.screen()).toContain('size stands twice');
    at.press(...Array.from({ length: 10 }, () => 'backspace'));
    save(at);
    expect(at.screen()).toContain('3 sealed Dry gin stand there. What do they hold?');
    const stock = [...store.books().stock.values()].find(({ item }) => item === ('dry-gin' as never));
    expect([stock?.amount, stock?.sealed, stock?.open]).toEqual([2_100_000, 0, [700_000, 700_000, 700_000]]);
    // The size was only wrong: a count says so, at that very row.
    at.press('down', 'enter');
    expect([at.state().room, at.screen().includes('Dry gin at bar')]).toEqual(['count', true]);
    at.press('3+0', 'enter');
    expect([...store.books().stock.values()].find(({ item }) => item === ('dry-gin' as never))?.sealed).toBe(
      3,
    );
    inBook(at, 'dry gin');
    at.press('ctrl-n');
    rewrite(at, 'cost', '95.00');
    expect(at.screen()).toContain('Past the target of 20 % by this price:');
    expect(at.screen()).toMatch(/Lantern Sour \d\d\.\d %/);
    save(at);
    inBook(at, 'dry gin');
    at.press('home');
    expect(at.screen()).toMatch(/costs 95\.00 EUR since Fri 20 Nov/);
  });
  expect(await night.ok('check')).toBe('');
});

it('a card says how full it makes its glass, and when it is too much', async () => {
  const night = await stocked();
  within(night, (at) => {
    at.press(
      'tall one',
      'ctrl-n',
      'glass: coupe',
      'enter',
      '60 ml dry gin',
      'enter',
      '30 ml lemon juice',
      'enter',
      'do: shake',
    );
    expect(at.screen()).toMatch(/\d+ ml in a coupe of 180 ml/);
    at.press('enter', '120 ml simple syrup');
    expect(at.screen().replace(/\s+/g, ' ')).toMatch(/! \S*\s?\d+ ml is more than a coupe of 180 ml holds/);
  });
});

it('an empty part of the book says how to begin it, and its word is no drink; a page says who brings a thing', async () => {
  const night = await furnished();
  within(night, (at, store) => {
    for (const part of ['suppliers', 'retired']) {
      inBook(at, part);
      expect(at.screen()).toContain(
        'None yet. "supplier", "person" or "item" and a name, then ^N, writes one.',
      );
      at.press('ctrl-n');
      expect([at.state().dialog, at.state().message?.tone]).toEqual([null, 'refused']);
    }
    inBook(at, 'supplier quay');
    at.press('ctrl-n', ...Array.from({ length: 9 }, () => 'down'), 'end', 'enter', 'enter');
    inBook(at, 'dry gin');
    at.press('ctrl-n', 'enter', 'supplier: quay', 'enter', 'code: Q7', 'enter', 'enter');
    expect(store.books().items.get('dry-gin' as never)).toMatchObject({ supplier: 'quay', code: 'Q7' });
    inBook(at, 'dry gin');
    expect(at.screen()).toContain('from Quay, their Q7');
    // A kind that nothing else has is said.
    at.press('ctrl-n');
    rewrite(at, 'kind', '1 l');
    expect(at.screen()).toContain('The kind "1 l" is new here');
  });
  expect(await night.ok('item', 'dry gin')).toMatch(/supplier +Quay[\s\S]*their code +Q7/);
});

it('a way up and down keeps its column past a short line; a place is written where something stands', async () => {
  const night = await furnished();
  within(night, (at) => {
    inBook(at, 'lantern sour');
    at.press('ctrl-n');
    const dialog = () => {
      const now = at.state().dialog;
      if (now?.kind !== 'write') throw new Error('nothing is being written');
      return now;
    };
    const column = () => dialog().text.slice(0, dialog().at).split('\n').at(-1)?.length;
    // From the end of a line over a shorter one and back.
    const rows = dialog().text.split('\n');
    const long = rows.findIndex((row, index) => (rows[index + 1] ?? row).length < row.length);
    const [name = '', second = ''] = rows.slice(long);
    at.press(...rows.map(() => 'up'), ...rows.slice(0, long).map(() => 'down'), 'end');
    expect(second.length).toBeLessThan(name.length);
    at.press('down');
    expect(column()).toBe(second.length);
    at.press('up');
    expect(column()).toBe(name.length);
    at.press('down', 'left', 'up');
    expect(column()).toBe(second.length - 1);
    at.press('esc');
    inBook(at, 'place bar');
    at.press('ctrl-n');
    expect(dialog().text).toBe('name: bar');
    at.press('esc');
    inBook(at, 'place cellar');
    at.press('ctrl-n');
    expect([at.state().dialog, at.state().message?.text]).toEqual([
      null,
      expect.stringContaining('as soon as something stands there'),
    ]);
  });
});

it('a long name of the house makes way for the night and who is pouring; a form says what else it may hold', async () => {
  const night = await stocked();
  await night.ok('house', 'name', 'The Very Long-Winded Harbour Bar and Tasting Rooms, Quay');
  roomsAt({ columns: 80, rows: 24 })(night, (at) => {
    expect(at.rows()[0]).toMatch(/The Very .*… · Fri 20 Nov · Ines pouring/);
    inBook(at, 'dry gin');
    at.press('ctrl-n');
    expect(at.screen().replace(/\s+/g, ' ')).toMatch(/may also say: supplier, code, keeps/);
  });
});

it('leaving with something half written says so first', async () => {
  const night = await furnished();
  within(night, (at) => {
    inBook(at, 'item coconut milk');
    at.press('ctrl-n', 'dairy', 'ctrl-c');
    expect([at.left(), at.state().message?.text]).toEqual([false, expect.stringContaining('half written')]);
    at.press('esc', 'ctrl-c');
    expect(at.state().message?.text).toContain('^N goes on with it');
    at.press('x', 'esc', 'ctrl-n');
    expect(at.screen()).toContain('kind: dairy');
  });
});
