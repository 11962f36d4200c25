// A place with another name keeps its stock, its counts and its past: what is reported is what would be without it.
import { expect, it } from 'vitest';
import { counted, type Night } from '../support/night.ts';
import { roomsAt, walkTo } from '../support/rooms.ts';

/** Two nights with counts before, between and after; `between` is done after the first is sealed. */
async function twoNights(between: (night: Night) => Promise<unknown>): Promise<Night> {
  const night = await counted({ 'dry-gin': '3.0', 'lemon-juice': '900ml' });
  await night.ok('open --by Ines');
  await night.ok('pour 6 lantern-sour');
  night.later(60);
  await night.ok('count dry-gin 2.5');
  await night.ok('count lemon-juice 700ml');
  await night.ok('close --seal');
  night.later(60 * 20);
  await between(night);
  night.later(10);
  await night.ok('open --by Ines');
  await night.ok('pour 4 lantern-sour');
  night.later(60);
  await night.ok('count dry-gin 2.1');
  await night.ok('count lemon-juice 600ml');
  return night;
}

const shown = async (night: Night, line: string): Promise<unknown> => {
  const report = await night.json<{ items: unknown; totals: unknown }>(line);
  return JSON.parse(
    JSON.stringify({ items: report.items, totals: report.totals }).replaceAll('back rail', 'bar'),
  );
};

it('reports of the night and of a stretch are the same with and without a renaming, and the books are sound', async () => {
  const plain = await twoNights(async () => undefined);
  const renamed = await twoNights((night) => night.ok('rename place bar', 'Back rail'));
  // The last stretch begins where the place had its old name.
  for (const line of [
    'close',
    'report --from 2026-11-01 --to 2026-12-31',
    'report --from 2026-11-21 --to 2026-12-31',
  ])
    expect(await shown(renamed, line)).toEqual(await shown(plain, line));
  expect(await renamed.ok('check')).toBe('');
  expect(renamed.books().items.get('dry-gin' as never)?.place).toBe('back rail');
  expect([...renamed.books().stock.values()].every(({ place }) => place !== 'bar')).toBe(true);
  // What was sealed before says what it said.
  expect(await renamed.ok('report 2026-11-20')).toBe(await plain.ok('report 2026-11-20'));
  expect(await renamed.ok('drift')).toBe(await plain.ok('drift'));
});

it('in the middle of a night, too; a name that another place has, and a place nobody knows, are refused', async () => {
  const night = await counted({ 'dry-gin': '3.0', 'lemon-juice': '900ml' });
  await night.ok('open --by Ines');
  await night.ok('pour 6 lantern-sour');
  night.later(30);
  await night.ok('count dry-gin 2.5');
  await night.ok('rename place bar', 'back rail');
  night.later(5);
  await night.ok('pour 1 lantern-sour');
  await night.ok('count dry-gin 2.4');
  const rows = (await night.json<{ items: { item: string; missing: number | null }[] }>('close')).items;
  expect(rows.filter(({ item }) => item === 'dry-gin')).toHaveLength(1);
  expect(await night.ok('check')).toBe('');
  await night.ok('receive 1 dry-gin --place cellar');
  for (const [words, says] of [
    [['rename place cellar', 'Back rail'], 'belongs to another place'],
    [['rename place attic', 'loft'], 'No place is called "attic"'],
    [['rename place cellar', ''], ''],
  ] as const) {
    const outcome = await night.run(words[0], words[1]);
    expect([outcome.exit === 0, outcome.err]).toEqual([false, expect.stringContaining(says)]);
  }
  // Taken back it is not: what was counted since stands under the new name.
  const [last] = (await night.json<{ id: string; kind: string }[]>('log --last 9')).filter(
    ({ kind }) => kind === 'place-renamed',
  );
  expect(await night.run('undo', last?.id ?? '')).toMatchObject({
    exit: 65,
    err: expect.stringContaining('Rename it back'),
  });
  await night.ok('rename place "back rail"'.replace(/ "[^"]*"/, ''), 'back rail', 'bar');
  expect(night.books().items.get('dry-gin' as never)?.place).toBe('bar');
});

it('the Book lists places and renames them, with what goes along beside it', async () => {
  const night = await counted({ 'dry-gin': '3.0' });
  roomsAt({ columns: 110, rows: 30 })(night, (at, store) => {
    walkTo(at, 'book');
    at.press('places');
    expect(at.screen()).toMatch(/place +bar[\s\S]*live here: /);
    at.press('ctrl-n', 'backspace', 'backspace', 'backspace', 'back rail');
    expect(at.screen()).toContain('+ name: back rail');
    at.press('enter', 'enter');
    expect(store.books().items.get('dry-gin' as never)?.place).toBe('back rail');
  });
});
