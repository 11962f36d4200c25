// Water from ice. Arnold, Liquid Intelligence, W. W. Norton 2014, p. 123 (published, seen second-hand). The book's own
// drinks are from memory; the minus form reproduces all of them.
import { describe, expect, it } from 'vitest';
import { dilutionRatio } from '../../src/domain/drink/dilution.ts';
import { near } from '../support/near.ts';

describe('the ratio of water to the initial volume', () => {
  it.each([
    ['stir', 0.25, 0.3809],
    ['stir', 0.3, 0.4099],
    ['stir', 0.35, 0.4329],
    ['stir', 0.4, 0.4498],
    ['shake', 0.15, 0.429],
    ['shake', 0.2, 0.4887],
    ['shake', 0.25, 0.5406],
    ['shake', 0.3, 0.5846],
    ['shake', 0.35, 0.621],
  ] as const)('%s at %f: %f (computed)', (method, strength, ratio) =>
    near(dilutionRatio(method, strength), ratio, 0.0005),
  );

  it.each([
    ['daiquiri', 'shake', 105, 24 / 105, 159, 15],
    ['negroni', 'stir', 90, 0.2927, 127, 20.7],
    ['manhattan', 'stir', 88.5, 0.398, 129, 27],
  ] as const)('%s of the book', (_, method, volume, strength, served, abv) => {
    const ratio = dilutionRatio(method, strength);
    near(volume * (1 + ratio), served, 1);
    near((strength / (1 + ratio)) * 100, abv, 0.6);
  });

  it('trap: the plus sign some copies print would pass 70 % at 35 % strength', () => {
    for (let percent = 15; percent <= 45; percent += 1)
      expect(dilutionRatio('shake', percent / 100)).toBeLessThan(0.7);
    expect(1.567 * 0.35 ** 2 + 1.742 * 0.35 + 0.203).toBeGreaterThan(1);
  });
  it('trap: the ratio is to the initial volume, not to the final one', () =>
    near(100 * (1 + dilutionRatio('stir', 0.3)), 140.99, 0.02));
  it('keeps the ethanol', () => {
    const ratio = dilutionRatio('shake', 0.24);
    near((0.24 / (1 + ratio)) * 100 * (1 + ratio), 24, 1e-9);
  });
  it('is not used outside 15 to 45 %', () => {
    for (const strength of [0, 0.149, 0.451, 0.6, Number.NaN])
      expect(() => dilutionRatio('shake', strength)).toThrow(RangeError);
  });
});
