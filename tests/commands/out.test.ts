// What is out: the specs that go with it, and out told from too little and from never counted.
import { describe, expect, it } from 'vitest';
import { furnished, stocked } from '../support/night.ts';

describe('what is out', () => {
  it('names the specs that go with it, and tells out from too little and from never counted', async () => {
    const night = await furnished();
    for (const [name, reading] of [
      ['dry-gin', '0.1'],
      ['rye', '0.0'],
      ['lemon-juice', '500ml'],
      ['simple-syrup', '500ml'],
      ['egg-white', '9'],
    ])
      await night.ok(`count ${name} ${reading}`);
    await night.ok('open');
    await night.ok('pour 20ml dry-gin');
    const list =
      await night.json<{ item: string; out: boolean; known: boolean; specs: { spec: string }[] }[]>('out');
    const short = Object.fromEntries(
      list.map((one) => [one.item, [one.out, one.known, one.specs.map(({ spec }) => spec)]]),
    );
    // 50 ml of gin still give a straight one of 40 ml.
    expect(short).toEqual({
      'dry-gin': [false, true, ['lantern-sour']],
      rye: [true, true, ['rye-lamp']],
      'aromatic-bitters': [true, false, ['lantern-sour']],
    });
    await night.ok('receive 1 rye');
    await night.ok('receive 1 dry-gin');
    await night.ok('receive 1 aromatic-bitters');
    expect(await night.ok('out')).toContain('Nothing is out');
  });
});

it('a command pours what is marked out by hand, and says that it is', async () => {
  const night = await stocked();
  await night.ok('out mark', 'lemon juice', '--why', 'wilted');
  expect(await night.ok('pour 1 lantern-sour')).toContain('It is marked out (86): Lemon juice, wilted.');
  expect(await night.ok('pour 50ml', 'dry gin')).not.toContain('86');
});
