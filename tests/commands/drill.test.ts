// The drill: what a person's eye is worth, from ten pairs on, and what no drill can tell.
import { describe, expect, it } from 'vitest';
import { furnished, type Night } from '../support/night.ts';

describe('the drill', () => {
  const compare = async (night: Night, eye: string, grams: number, by = 'Ines') =>
    night.ok('drill', 'dry gin', eye, `${grams}g`, '--by', by);

  it('learns a person’s reading error from ten pairs on, and counts with it', async () => {
    const night = await furnished();
    const assumed = await night.json<{ deviation: number }>('count dry-gin 0.5 --by Ines');
    expect(assumed.deviation).toBe(20_207);
    // Tare 480 g, density of 40 % gin about 0.948: 812 g is 350 ml; ten readings all 70 ml too high.
    for (let pair = 0; pair < 9; pair += 1) await compare(night, '0.6', 812);
    expect((await night.json<{ deviation: number }>('count dry-gin 0.5 --by Ines')).deviation).toBe(20_207);
    const said = await compare(night, '0.6', 812);
    expect(said).toMatch(
      /Ines: 10 pairs, one reading is off by 10\.0 % of a bottle \(.*\), on average 10\.0 % too high/,
    );
    const learned = await night.json<{ deviation: number }>('count dry-gin 0.5 --by Ines');
    expect(learned.deviation / 700_000).toBeCloseTo(0.1, 2);
    // Who has no pairs of their own is counted by those of the house.
    expect((await night.json<{ deviation: number }>('count dry-gin 0.5 --by Tom')).deviation).toBe(
      learned.deviation,
    );
    expect(await night.json('drill')).toMatchObject([
      { person: 'ines', pairs: 10, from: 'own' },
      { person: 'tom', pairs: 10, from: 'house' },
      { person: 'mara', pairs: 10, from: 'house' },
    ]);
    // The two counts after it, then the tenth pair.
    for (let back = 0; back < 3; back += 1) await night.ok('undo');
    expect((await night.json<{ from: string }[]>('drill'))[0]?.from).toBe('assumed');
  });

  it.each([
    ['drill dry-gin 350ml 812g', 'by eye first'],
    ['drill dry-gin 1.6 812g', 'that one container'],
    ['drill lemon-juice 0.6 812g', 'No tare is known'],
    ['drill dry-gin 0.6 100g', 'less than the empty'],
  ])('%s is refused', async (line, message) => {
    const night = await furnished();
    const outcome = await night.run(line);
    expect([outcome.exit, outcome.err]).toEqual([65, expect.stringContaining(message)]);
  });

  it('what is read in tenths is known to half a tenth, however well the drill went', async () => {
    const night = await furnished();
    for (let pair = 0; pair < 10; pair += 1) await night.ok('drill dry-gin 0.5 812g --by Ines');
    expect((await night.json<{ deviation: number }>('count dry-gin 0.5 --by Ines')).deviation).toBe(20_207);
  });
});
