// A spreadsheet taken in from the Book, without leaving the rooms: its columns seen and settled, what it would write, all or nothing.
import { expect, it } from 'vitest';
import { createApp } from '../../src/app/run.ts';
import { refuse } from '../../src/domain/value/problem.ts';
import { textSheet } from '../../src/exchange/file/sheet.ts';
import type { Store } from '../../src/store/store.ts';
import { type Night, stocked } from '../support/night.ts';
import { type Rooms, roomsOn, walkTo } from '../support/rooms.ts';

const list = `Price list
Product,Pack,Price,Bin
Quay gin,70cl,18.90,A1
Dry gin,700 ml,19.50,A2
Rum,70cl,,A3
`;

async function withList(text: string, work: (at: Rooms, store: Store) => Promise<void>, night?: Night) {
  const open = night ?? (await stocked());
  let done: Promise<void> = Promise.resolve();
  const opened = await open.world.openStore();
  if (!opened.ok) throw new Error('no store');
  const store = opened.value;
  const at = roomsOn(
    createApp(store, open.world.now, { columns: 100, rows: 30 }, () => undefined, {
      readSheet: async (file) =>
        file === 'list.csv'
          ? textSheet(Buffer.from(text), file)
          : refuse('no-file', `There is no file ${file}.`, 66),
    }),
  );
  walkTo(at, 'book');
  at.press('import list.csv', 'ctrl-n');
  await new Promise((resolve) => setImmediate(resolve));
  done = work(at, store);
  await done;
  store.close();
}

it('shows which column is which, what is asked with a sign, and writes all of it at the second Enter', async () => {
  await withList(list, async (at, store) => {
    expect(at.screen()).toMatch(
      /› Product +✓ name[\s\S]*Pack +✓ size[\s\S]*Price +\? cost[\s\S]*Bin +✓ shelf/,
    );
    at.press('enter');
    expect(at.screen()).toContain('2 new, 1 changed, 0 the same');
    expect(at.screen()).toContain('Dry gin: cost 18.90 → 19.50');
    expect(at.screen()).toContain('line 5: no kind is said; taken as spirit');
    const before = [...store.allEvents()].length;
    at.press('enter');
    expect(at.state().dialog).toBeNull();
    // Three items, and how such a list is read.
    expect([...store.allEvents()].length).toBe(before + 4);
    expect(store.books().items.get('quay-gin' as never)?.costMinor).toBe(1890);
    // One key takes all of the list back, and the Log restores it.
    at.press('ctrl-u');
    expect([store.books().items.has('quay-gin' as never), store.books().items.has('rum' as never)]).toEqual([
      false,
      false,
    ]);
    expect(store.books().items.get('dry-gin' as never)?.costMinor).toBe(1890);
    at.press('import list.csv', 'ctrl-n');
    await new Promise((resolve) => setImmediate(resolve));
    at.press('enter', 'enter', 'import list.csv', 'ctrl-n');
    await new Promise((resolve) => setImmediate(resolve));
    expect(at.screen()).toMatch(/Price +✓ cost/);
    at.press('enter');
    expect(at.screen()).toContain('0 new, 0 changed, 3 the same');
  });
});

it('Space turns what a column is, Backspace leaves it out, and Esc goes a page back', async () => {
  await withList(list, async (at, store) => {
    at.press('down', 'down', 'backspace', 'down', 'backspace');
    expect(at.screen()).toMatch(/Price +left out[\s\S]*Bin +left out/);
    at.press(' ');
    expect(at.screen()).toMatch(/Bin +✓ kind/);
    at.press('backspace', 'enter');
    expect(at.screen()).not.toContain('cost');
    at.press('esc');
    expect(at.screen()).toContain('which of its columns is which?');
    at.press('enter', 'enter');
    expect(store.books().items.get('dry-gin' as never)?.costMinor).toBe(1890);
    expect(store.books().items.get('quay-gin' as never)?.costMinor).toBeNull();
  });
});

it('turning one column takes nothing from another, and what it leaves is free again', async () => {
  await withList(list, async (at) => {
    // Past size and cost, which other columns are or may be.
    at.press(' ');
    expect(at.screen()).toMatch(/Product +✓ kind[\s\S]*Pack +✓ size[\s\S]*Price +\? cost/);
    at.press('backspace', ' ');
    expect(at.screen()).toMatch(/Product +✓ name[\s\S]*Pack +✓ size[\s\S]*Price +\? cost/);
  });
});

it('where some come by the case, what the cost is of is asked, and Space turns it', async () => {
  await withList('Product,Pack,Cost\nAle,12x330ml,15.60\nRum,70cl,20.00\n', async (at, store) => {
    expect(at.screen()).toMatch(/Cost +\? cost[\s\S]*Some come by the case/);
    at.press('down', 'down', ' ', ' ');
    expect(at.screen()).toMatch(/Cost +✓ case_cost/);
    at.press('enter', 'enter');
    expect(store.books().items.get('ale' as never)?.costMinor).toBe(130);
  });
});

it('a line that can not be read stops all of it, and is named; so is a file that is not there', async () => {
  await withList(`${list}Cordial,a lot,1.00,A4\n`, async (at, store) => {
    const before = [...store.allEvents()].length;
    at.press('enter');
    expect(at.screen()).toMatch(/1 line can't be read[\s\S]*line 6: size "a lot"/);
    at.press('enter');
    expect([at.state().message?.tone, [...store.allEvents()].length]).toEqual(['refused', before]);
    at.press('esc', 'esc', 'import other.csv', 'ctrl-n');
    await new Promise((resolve) => setImmediate(resolve));
    expect(at.state().message?.text).toContain('There is no file other.csv');
  });
});
