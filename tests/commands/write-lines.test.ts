// Single lines of an item or a card from a script; all else stays, and all of it can be taken back.
import { expect, it } from 'vitest';
import { furnished, type Night } from '../support/night.ts';

/** What a script wrote into the catalogue is taken back by its id. */
async function undoLast(night: Night): Promise<void> {
  const [last] = await night.json<{ id: string }[]>('log --last 1');
  await night.ok('undo', last?.id ?? '');
}

it('changes a line of an item, and writes a new one', async () => {
  const night = await furnished();
  const before = await night.ok('export items');
  await night.ok('item', 'dry gin', '--write', 'cost: 19.50', '--write', 'shelf: 9');
  const gin = night.books().items.get('dry-gin' as never);
  expect([gin?.costMinor, gin?.shelf, gin?.name]).toEqual([1950, '9', 'Dry gin']);
  await undoLast(night);
  expect(await night.ok('export items')).toBe(before);
  await night.ok(
    'item',
    'Quay gin',
    '--write',
    'kind: spirit',
    '--write',
    'size: 70cl',
    '--write',
    'abv: 41',
  );
  expect(night.books().items.get('quay-gin' as never)).toMatchObject({ size: 700_000, abvPercent: 41 });
  for (const [name, line, says] of [
    ['Other gin', 'size: 70cl', 'kind is missing'],
    ['dry gin', 'coast: 19', 'is no line of an item'],
    ['dry gin', 'cost: a lot', 'is not an amount'],
    ['quay', 'cost: 19', 'Did you mean Quay gin?'],
  ] as const) {
    const outcome = await night.run('item', name, '--write', line);
    expect([outcome.exit, outcome.err]).toEqual([65, expect.stringContaining(says)]);
    expect(outcome.err).not.toMatch(/line \d/);
  }
});

it('changes a field or a measure of a card, takes one out, adds one; the rest stays as it is', async () => {
  const night = await furnished();
  const card = async () =>
    (await night.ok('export specs')).split('\n\n').find((one) => one.startsWith('# Lantern Sour')) ?? '';
  const before = await card();
  await night.ok(
    'spec',
    'lantern sour',
    '--write',
    'price: 15.00',
    '--write',
    '22 ml lemon juice',
    '--write',
    '-egg white',
    '--write',
    '1 barspoon simple syrup',
  );
  const after = await card();
  expect(after).toContain('price: 15.00');
  expect(after).toMatch(/22 ml +lemon juice/);
  expect(after).toMatch(/1 barspoon +simple syrup/);
  expect(after).not.toContain('egg white');
  expect(after).toMatch(/60 ml +dry gin/);
  expect(after.split('\n').length).toBe(before.split('\n').length - 1);
  await undoLast(night);
  expect(await card()).toBe(before);
  await night.ok(
    'spec',
    'Grey Heron',
    '--write',
    '40 ml rye',
    '--write',
    '10 ml simple syrup',
    '--write',
    'do: stir',
  );
  expect(night.books().specs.get('grey-heron' as never)?.measures).toHaveLength(2);
  for (const [line, says] of [
    ['-olive', 'has no measure of "olive"'],
    ['20 ml lemonade', 'No item is called "lemonade"'],
    ['colour: red', 'is not a line of a card'],
  ] as const)
    expect(await night.run('spec', 'lantern sour', '--write', line)).toMatchObject({
      exit: 65,
      err: expect.stringContaining(says),
    });
  expect(await card()).toBe(before);
});
