// The settings of the house: what each may be, and what stands when nothing or nonsense was set.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  checkSetting,
  houseOf,
  isSettingKey,
  newHouse,
  settings,
  settingValues,
} from '../../../src/domain/catalogue/house.ts';
import { codesOf, messagesOf, must } from '../../support/shelf.ts';

const takes = (key: string, ...values: readonly string[]): string[] =>
  values.filter((value) => checkSetting(key, value).ok);

it('starts as a house in euros and millilitres', () => {
  expect(newHouse).toMatchObject({
    name: 'My bar',
    currency: 'EUR',
    zone: 'UTC',
    cutOffHour: 6,
    units: 'ml',
    ounce: 'us',
    allergens: 'eu',
    servings: 'none',
  });
});

it('accepts its own defaults', () => {
  for (const { key, initial } of settings) expect(takes(key, initial), key).toEqual([initial]);
});

it('takes currencies by their code, zones by their name, hours of the early day', () => {
  expect(takes('currency', 'EUR', 'JPY', 'eur', 'EURO', 'XQQ', '')).toEqual(['EUR', 'JPY']);
  expect(takes('zone', 'Europe/London', 'Asia/Kolkata', 'Mars/Olympus', '')).toEqual([
    'Europe/London',
    'Asia/Kolkata',
  ]);
  expect(takes('cut-off-hour', '0', '6', '12', '13', '-1', '6.5', '06')).toEqual(['0', '6', '12']);
});

it('takes only the words it names', () => {
  expect(takes('units', 'ml', 'cl', 'oz', 'ML', 'gallon')).toEqual(['ml', 'cl', 'oz']);
  expect(takes('ounce', 'us', 'imperial', '30ml', '28')).toEqual(['us', 'imperial', '30ml']);
  expect(takes('servings', 'none', 'uk25', 'uk35', 'uk')).toEqual(['none', 'uk25', 'uk35']);
});

it('keeps numbers within sense', () => {
  expect(takes('tenths-width', '0.01', '0.1', '0.5', '0', '0.51', '-0.1', 'wide')).toEqual([
    '0.01',
    '0.1',
    '0.5',
  ]);
  expect(takes('pour-deviation', '0', '1.5', '30', '30.1')).toEqual(['0', '1.5', '30']);
  expect(takes('dash', '0.001', '0.9', '1000', '0', '1001')).toEqual(['0.001', '0.9', '1000']);
});

it('takes a name of any script, but not an empty or an endless one', () => {
  expect(takes('name', 'Oddtide', '塩の門', ' ', '', 'x'.repeat(61))).toEqual(['Oddtide', '塩の門']);
});

it('trims what it takes, and says what it accepts when it refuses', () => {
  expect(must(checkSetting('currency', ' GBP '))).toEqual({ key: 'currency', value: 'GBP' });
  expect(messagesOf(checkSetting('units', 'pints'))).toEqual(['units takes ml, cl, oz, not "pints".']);
  expect(codesOf(checkSetting('colour', 'red'))).toEqual(['unknown-setting']);
  expect([isSettingKey('dash'), isSettingKey('colour')]).toEqual([true, false]);
});

it('falls back to the default for a value that is no longer allowed', () => {
  const set = new Map([
    ['units', 'pints'],
    ['zone', 'Mars/Olympus'],
    ['dash', '0'],
    ['name', 'Oddtide'],
    ['of-another-time', 'x'],
  ]);
  expect(houseOf(set)).toEqual({ ...newHouse, name: 'Oddtide' });
});

it('reads a decimal comma as a point', () => {
  expect(houseOf(new Map([['pour-deviation', '2,5']])).pourDeviationMl).toBe(2.5);
});

it("keeps the house's own measures: a dash of its own leaves the others alone", () => {
  const { sizes } = houseOf(new Map([['dash', '0.6']]));
  expect(sizes.get('dash')).toEqual({ size: '0.6', unit: 'ml' });
  // A bar spoon of 5 ml: common practice, no source.
  expect(sizes.get('barspoon')).toEqual({ size: '5', unit: 'ml' });
  expect(sizes.get('wedge')?.unit).toBe('each');
});

it('lists every setting once, with its value or its default', () => {
  const listed = settingValues(new Map([['name', 'Oddtide']]));
  expect(listed.map(({ key }) => key)).toEqual(settings.map(({ key }) => key));
  expect(new Set(listed.map(({ key }) => key)).size).toBe(listed.length);
  expect(listed[0]).toMatchObject({ key: 'name', value: 'Oddtide' });
  expect(listed[1]).toMatchObject({ key: 'currency', value: 'EUR' });
});

it('makes a whole house of whatever was set', () => {
  const key = fc.constantFrom(...settings.map((setting) => setting.key));
  fc.assert(
    fc.property(fc.dictionary(key, fc.string({ maxLength: 70 })), (set) => {
      const house = houseOf(new Map(Object.entries(set)));
      for (const [name, value] of Object.entries(house)) {
        expect(value, name).not.toBeUndefined();
        if (typeof value === 'number') expect(Number.isFinite(value), name).toBe(true);
      }
    }),
  );
});

it('a pint follows the country of the zone until somebody sets it', () => {
  const ounce = (...set: (readonly [string, string])[]): string => houseOf(new Map(set)).ounce;
  expect(ounce(['zone', 'Europe/London'])).toBe('imperial');
  expect(ounce(['zone', 'Europe/Dublin'])).toBe('imperial');
  expect(ounce(['zone', 'America/New_York'])).toBe('us');
  expect(ounce()).toBe('us');
  expect(ounce(['zone', 'Europe/London'], ['ounce', 'us'])).toBe('us');
  const said = settingValues(new Map([['zone', 'Europe/London']])).find(({ key }) => key === 'ounce');
  expect(said?.value).toBe('imperial');
});
