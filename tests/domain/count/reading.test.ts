// Readings of a count: tenths, weights, pieces and sums of them.
import { describe, expect, it } from 'vitest';
import { newHouse } from '../../../src/domain/catalogue/house.ts';
import type { Item } from '../../../src/domain/catalogue/item.ts';
import { parseReading } from '../../../src/domain/count/reading.ts';
import { items } from '../../support/events.ts';

const gin: Item = { ...(items[0] as Item), tareMilligrams: 480_000 };
const egg: Item = {
  ...gin,
  id: 'egg' as Item['id'],
  name: 'Egg',
  unit: 'each',
  size: 1000,
  sizeText: '1 each',
  count: 'pieces',
};
const can: Item = { ...gin, name: 'Lager', size: 330_000, sizeText: '330 ml', count: 'pieces' };

const amountOf = (text: string, item = gin): number | string => {
  const reading = parseReading(text, item, newHouse);
  return reading.ok ? reading.value.amount : (reading.problems[0]?.message ?? '');
};

describe('a reading is typed as people say it', () => {
  it.each([
    ['7', 490_000],
    ['0', 0],
    ['0.7', 490_000],
    ['.7', 490_000],
    ['2.7', 1_890_000],
    ['2,7', 1_890_000],
    ['10.0', 7_000_000],
    ['2+7', 1_890_000],
    ['2+0.4+0.7', 1_400_000 + 280_000 + 490_000],
    ['0.4+0.7', 770_000],
    ['350ml', 350_000],
    ['2+350ml', 1_750_000],
    ['2+35cl', 1_750_000],
    ['2+812g', 1_400_000 + Math.round((332_000 / 948.0485) * 1000)],
  ])('%s', (text, amount) => expect(Math.abs(Number(amountOf(text)) - amount)).toBeLessThanOrEqual(1));

  it('knows an open container by tenths to a tenth, none there too; that nothing is open is said as 2+0', () => {
    const deviation = (text: string, item = gin): number => {
      const reading = parseReading(text, item, newHouse);
      return reading.ok ? reading.value.deviation : Number.NaN;
    };
    const tenth = deviation('2.7');
    expect(tenth).toBeGreaterThan(0);
    for (const text of ['2.0', '2,0', '2.00', '0.7', '0', '0.0'])
      expect(deviation(text), text).toBeCloseTo(tenth, 0);
    for (const text of ['2+0', '0+0', '14+0']) expect(deviation(text), text).toBe(0);
    expect(deviation('48', can)).toBe(0);
    const reading = parseReading('2.0', gin, newHouse);
    expect(reading).toMatchObject({ value: { sealed: 2, open: [], amount: 1_400_000 } });
  });

  it('counts pieces, and whole containers of what is counted in pieces', () => {
    expect(amountOf('14', egg)).toBe(14_000);
    expect(amountOf('14.5', egg)).toBe(14_500);
    expect(amountOf('48', can)).toBe(48 * 330_000);
  });

  it.each([
    '',
    'x',
    '14',
    '1e9',
    '-1',
    'NaN',
    'Infinity',
    '0x10',
    '2.777',
    '900ml',
    '2000g',
    '2+100g',
    '99999999.1',
    '7ml7',
    '½',
  ])('refuses %j with what would be right', (text) => {
    expect(amountOf(text)).toMatch(/[.]$/);
  });

  it('refuses grams without a tare, and less than the tare', () => {
    expect(amountOf('812g', { ...gin, tareMilligrams: null })).toContain('tare');
    expect(amountOf('300g')).toContain('less than the empty');
  });
});
