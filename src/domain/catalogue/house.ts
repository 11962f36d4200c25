// The house's settings: one table says what each is called, what it may be, what it is by default, and why.

import type { Unit } from '../value/amount.ts';
import { parseDecimal } from '../value/number.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { ratioToNumber } from '../value/ratio.ts';

export type Ounce = 'us' | 'imperial' | '30ml';
export type MeasureUnit = 'ml' | 'cl' | 'oz';

export type House = {
  readonly name: string;
  readonly currency: string;
  readonly zone: string;
  readonly cutOffHour: number;
  readonly units: MeasureUnit;
  readonly ounce: Ounce;
  /** Standard deviation of one pour of a volume, ml; random part only. */
  readonly pourDeviationMl: number;
  /** Width of one step of a reading by eye, as a share of the container. */
  readonly tenthsWidth: number;
  readonly mlWidth: number;
  /** To how much of a piece one that is in use is counted. */
  readonly pieceWidth: number;
  /** Standard deviation of what a fruit gives, a share of its yield. */
  readonly yieldSpread: number;
  readonly scaleResolutionGrams: number;
  readonly scaleLinearityGrams: number;
  /** Half-width of what a density computed from the label may be off, kg/m³. */
  readonly densityHalfWidth: number;
  /** Missing stock worth less than this is not put forward, however small its ±; the verdict stays as it is. */
  readonly moneyFloorMinor: number;
  /** What share of the price of a straight measure its cost is, %, where the measure has no price of its own (0: no price); and to what prices are raised. */
  readonly straight: { readonly percent: number; readonly stepMinor: number };
  /** Spare of an order, in standard deviations of the demand. */
  readonly orderZ: number;
  /** Chance that what is prepared for a night is enough. */
  readonly prepChance: number;
  /** Pour cost a card should stay under, %; 0 where the house has no such aim. */
  readonly targetPercent: number;
  /** What its glasses hold, ml to the rim, by their word. */
  readonly glasses: ReadonlyMap<string, number>;
  readonly allergens: 'us' | 'eu';
  readonly servings: 'none' | 'uk25' | 'uk35';
  /** Millilitres of an egg's white and of its yolk. */
  readonly eggs: { readonly white: number; readonly yolk: number };
  /** The house's own measures: dash, splash, leaf …; size in ml or pieces as decimal text. */
  readonly sizes: ReadonlyMap<string, { readonly size: string; readonly unit: Unit }>;
};

type Setting = {
  readonly key: string;
  readonly initial: string;
  readonly says: string;
  readonly accepts: string;
  readonly check: (text: string) => boolean;
};

const oneOf = (...words: string[]) => ({
  accepts: words.join(', '),
  check: (text: string) => words.includes(text),
});
const decimalUpTo = (limit: number, above = 0) => ({
  accepts: `a number from ${above} to ${limit}`,
  check: (text: string) => {
    const value = parseDecimal(text, limit);
    if (value === null) return false;
    const number = ratioToNumber(value);
    return number >= above && number <= limit;
  },
});

function isZone(text: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: text });
    return true;
  } catch {
    return false;
  }
}

/** Codes of ISO 4217 that this Node knows. */
const currencies: ReadonlySet<string> = new Set(Intl.supportedValuesOf('currency'));

/** Sizes of the house's own measures: common practice, no source; trade tables conflict, so all can be set. */
const ownSizes: readonly (readonly [string, string, Unit])[] = [
  ['dash', '0.9', 'ml'],
  ['drop', '0.05', 'ml'],
  ['barspoon', '5', 'ml'],
  ['splash', '5', 'ml'],
  ['rinse', '5', 'ml'],
  ['top', '90', 'ml'],
  ['leaf', '0.02', 'each'],
  ['sprig', '0.1', 'each'],
  ['wedge', '0.125', 'each'],
  ['slice', '0.1', 'each'],
  ['wheel', '0.1', 'each'],
  ['twist', '0.125', 'each'],
];

/** To the rim; from memory, and every house has its own. */
const ownGlasses: readonly (readonly [string, string])[] = [
  ['coupe', '180'],
  ['martini', '200'],
  ['rocks', '300'],
  ['highball', '350'],
  ['flute', '180'],
  ['wine', '400'],
  ['shot', '50'],
  ['mug', '400'],
];

export const settings: readonly Setting[] = [
  {
    key: 'name',
    initial: 'My bar',
    says: 'name of the house',
    accepts: '1 to 60 characters',
    check: (text) => text.trim() !== '' && text.length <= 60,
  },
  {
    key: 'currency',
    initial: 'EUR',
    says: 'currency, ISO 4217',
    accepts: 'a code of ISO 4217, as EUR',
    check: (text) => /^[A-Z]{3}$/.test(text) && currencies.has(text),
  },
  {
    key: 'zone',
    initial: 'UTC',
    says: 'time zone of the house',
    accepts: 'an IANA zone such as Europe/London',
    check: isZone,
  },
  {
    key: 'cut-off-hour',
    initial: '6',
    says: 'a shift opened before this hour belongs to the day before',
    accepts: 'an hour from 0 to 12',
    check: (text) => /^(\d|1[0-2])$/.test(text),
  },
  { key: 'units', initial: 'ml', says: 'what measures are shown in', ...oneOf('ml', 'cl', 'oz') },
  {
    key: 'ounce',
    initial: 'us',
    says: 'what an ounce and a pint are: US, imperial, or ounces of 30 ml; unset it follows the zone',
    ...oneOf('us', 'imperial', '30ml'),
  },
  { key: 'pour-deviation', initial: '1.5', says: 'random deviation of one pour, ml', ...decimalUpTo(30) },
  {
    key: 'tenths-width',
    initial: '0.1',
    says: 'width of a reading by eye, share of a container',
    ...decimalUpTo(0.5, 0.01),
  },
  { key: 'ml-width', initial: '10', says: 'width of a reading in ml, ml', ...decimalUpTo(100) },
  {
    key: 'piece-width',
    initial: '1',
    says: 'to how much of a piece one in use is counted (a begun lime is one or none); from memory',
    ...decimalUpTo(2, 0.1),
  },
  {
    key: 'yield-spread',
    initial: '0.15',
    says: 'how much the yield of a fruit varies, share of it; from memory',
    ...decimalUpTo(1),
  },
  { key: 'scale-resolution', initial: '1', says: 'resolution of the scale, g', ...decimalUpTo(100) },
  { key: 'scale-linearity', initial: '2', says: 'linearity limit of the scale, g', ...decimalUpTo(100) },
  {
    key: 'density-half-width',
    initial: '5',
    says: 'how far a label density may be off, kg/m³',
    ...decimalUpTo(100),
  },
  {
    key: 'money-floor',
    initial: '100',
    says: 'missing worth less than this, in minor units, is not put forward',
    ...decimalUpTo(100000),
  },
  {
    key: 'straight-pour-cost',
    initial: '0',
    says: 'pour cost of straight measures without a price of their own, %; 0 gives them none',
    ...decimalUpTo(100),
  },
  {
    key: 'price-step',
    initial: '10',
    says: 'to what such prices are raised, minor units',
    ...decimalUpTo(10000, 1),
  },
  {
    key: 'target-pour-cost',
    initial: '0',
    says: 'pour cost that no card should pass, %; 0 for none',
    ...decimalUpTo(100),
  },
  {
    key: 'order-z',
    initial: '1.28',
    says: 'how much spare an order has, in deviations: 1.28 is nine in ten, 1.65 nineteen in twenty',
    ...decimalUpTo(4),
  },
  {
    key: 'prep-chance',
    initial: '0.95',
    says: 'chance that what is prepared for a night is enough, as 0.95',
    ...decimalUpTo(0.999, 0.5),
  },
  { key: 'allergens', initial: 'eu', says: 'which list of allergens', ...oneOf('us', 'eu') },
  {
    key: 'servings',
    initial: 'none',
    says: 'legal serving sizes to be reminded of; local rules decide',
    ...oneOf('none', 'uk25', 'uk35'),
  },
  { key: 'egg-white', initial: '30', says: "an egg's white in the glass, ml", ...decimalUpTo(100) },
  { key: 'egg-yolk', initial: '17', says: "an egg's yolk in the glass, ml", ...decimalUpTo(100) },
  ...ownSizes.map(([key, initial, unit]) => ({
    key,
    initial,
    says: `size of a ${key}, ${unit === 'ml' ? 'ml' : 'share of a piece'}`,
    ...decimalUpTo(1000, 0.001),
  })),
  ...ownGlasses.map(([glass, initial]) => ({
    key: `glass-${glass}`,
    initial,
    says: `what a ${glass} of the house holds, ml to the rim; from memory`,
    ...decimalUpTo(3000, 10),
  })),
];

const byKey: ReadonlyMap<string, Setting> = new Map(settings.map((setting) => [setting.key, setting]));

export const isSettingKey = (key: string): boolean => byKey.has(key);

/** Checks one setting; the refusal names what it accepts. */
export function checkSetting(key: string, value: string): Result<{ key: string; value: string }> {
  const setting = byKey.get(key);
  if (setting === undefined) {
    return refuse(
      'unknown-setting',
      `No setting is called "${key}". Run ullage house to see them all.`,
      64,
      `No setting is called "${key}". The Book room lists them.`,
    );
  }
  const text = value.trim();
  if (!setting.check(text)) return refuse('bad-setting', `${key} takes ${setting.accepts}, not "${value}".`);
  return done({ key, value: text });
}

/** Zones of the countries that sell beer by the imperial pint: the United Kingdom, Ireland and the islands between (IANA tz database). */
const imperialZones = /^(Europe\/(London|Dublin|Belfast|Jersey|Guernsey|Isle_of_Man)|GB(-Eire)?|Eire)$/;

/** Of the United Kingdom and the islands that keep its measures; Ireland has its pint, and no units. */
export const isBritishZone = (zone: string): boolean => imperialZones.test(zone) && !/Dublin|Eire/.test(zone);

/** What a setting is when nobody set it: a pint in London is none of New York. */
const initialOf = ({ key, initial }: Setting, set: ReadonlyMap<string, string>): string =>
  key === 'ounce' && imperialZones.test(set.get('zone') ?? '') ? 'imperial' : initial;

/** Settings as text, in the order of the table, defaults filled in. */
export function settingValues(
  set: ReadonlyMap<string, string>,
): { key: string; value: string; says: string }[] {
  return settings.map((setting) => ({
    key: setting.key,
    value: set.get(setting.key) ?? initialOf(setting, set),
    says: setting.says,
  }));
}

/** The typed house from the settings that were set; a value that no longer passes its check falls back to the default. */
export function houseOf(set: ReadonlyMap<string, string>): House {
  const text = (key: string): string => {
    const setting = byKey.get(key) as Setting;
    const value = set.get(key);
    return value !== undefined && setting.check(value) ? value : initialOf(setting, set);
  };
  const number = (key: string): number => Number(text(key).replace(',', '.'));
  return {
    name: text('name'),
    currency: text('currency'),
    zone: text('zone'),
    cutOffHour: number('cut-off-hour'),
    units: text('units') as MeasureUnit,
    ounce: text('ounce') as Ounce,
    pourDeviationMl: number('pour-deviation'),
    tenthsWidth: number('tenths-width'),
    mlWidth: number('ml-width'),
    pieceWidth: number('piece-width'),
    yieldSpread: number('yield-spread'),
    scaleResolutionGrams: number('scale-resolution'),
    scaleLinearityGrams: number('scale-linearity'),
    densityHalfWidth: number('density-half-width'),
    moneyFloorMinor: number('money-floor'),
    straight: { percent: number('straight-pour-cost'), stepMinor: number('price-step') },
    orderZ: number('order-z'),
    prepChance: number('prep-chance'),
    targetPercent: number('target-pour-cost'),
    glasses: new Map(ownGlasses.map(([glass]) => [glass, number(`glass-${glass}`)])),
    allergens: text('allergens') as House['allergens'],
    servings: text('servings') as House['servings'],
    eggs: { white: number('egg-white'), yolk: number('egg-yolk') },
    sizes: new Map(ownSizes.map(([key, , unit]) => [key, { size: text(key), unit }])),
  };
}

export const newHouse: House = houseOf(new Map());
