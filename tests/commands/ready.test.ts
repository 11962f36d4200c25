// Mise en place: a list made from the specs, ticked until the seal, edited by hand.
import { describe, expect, it } from 'vitest';
import { furnished } from '../support/night.ts';

describe('ready en place', () => {
  it('is made from the specs, ticked until the seal, and edited by hand', async () => {
    const night = await furnished();
    const lines = async () =>
      night.json<{ text: string; part: string; done: string | null; specs: number }[]>('ready');
    const texts = (await lines()).map(({ text }) => text);
    for (const wanted of [
      'shaker',
      'strainer',
      'fine strainer',
      'peeler',
      'juicer',
      'coupe',
      'rocks',
      'lemon twist',
      '60 ml',
      '20 ml',
      'Lemon juice',
      'Egg white',
    ])
      expect(texts).toContain(wanted);
    expect(texts).not.toContain('muddler');
    await night.ok('ready tick shaker');
    await night.ok('ready add', 'Würfelbecher');
    await night.ok('ready drop peeler');
    expect((await lines()).find(({ text }) => text === 'shaker')?.done).toEqual(expect.any(String));
    expect((await lines()).find(({ text }) => text === 'Würfelbecher')).toMatchObject({
      part: 'own',
      specs: 0,
    });
    expect((await lines()).some(({ text }) => text === 'peeler')).toBe(false);
    await night.ok('open');
    expect((await lines()).filter(({ done }) => done !== null)).toHaveLength(1);
    await night.ok('close --seal');
    expect((await lines()).filter(({ done }) => done !== null)).toHaveLength(0);
    expect((await lines()).some(({ text }) => text === 'Würfelbecher')).toBe(true);
    const unknown = await night.run('ready tick', 'samovar');
    expect([unknown.exit, unknown.err]).toEqual([
      65,
      expect.stringContaining('Nothing on the list is called "samovar"'),
    ]);
  });
});
