// What a new house is offered, held to its sources. Sizes: nominal quantities of UK SI 1988/2039 Sch. A1, the same as Directive
// 2007/45/EC (published; the directive's annex from memory), and for the USA 27 CFR 5.203 and 4.72 as of 2025 (published, the list
// seen second-hand). Cards: IBA official specs (published, seen second-hand; public transcriptions agree): total of what is given in
// ml, and its ethanol at spirits, triple sec, curaçao 40 %, red bitter 25, sweet vermouth 16, dry vermouth 18, champagne 12.
import { describe, expect, it } from 'vitest';
import { emptyBooks } from '../../src/domain/ledger/books.ts';
import { isUsSpiritSize } from '../../src/domain/standard/law.ts';
import { countryOf, currencyOf, measuresOf, regionOf } from '../../src/domain/starter/country.ts';
import { publishedNames, publishedSpecs } from '../../src/domain/starter/published.ts';
import { findKinds, itemOfKind, stockList } from '../../src/domain/starter/stock-list.ts';

const nominal: Readonly<Record<string, readonly number[]>> = {
  spirit: [100, 200, 350, 500, 700, 1000, 1500, 1750, 2000],
  liqueur: [100, 200, 350, 500, 700, 1000, 1500, 1750, 2000],
  wine: [100, 187, 250, 375, 500, 750, 1000, 1500],
  fortified: [100, 200, 375, 500, 750, 1000, 1500],
};
/** Rice wine is no wine of that list. */
const outside = new Set(['sake']);
const usWine = [3000, 2250, 1800, 1500, 1000, 750, 720, 700, 620, 600, 568, 550, 500, 473, 375, 360, 355];

describe('the list of what a bar may stock', () => {
  it('has about 150 kinds, each read as an item in both regions, no id or name twice', () => {
    expect(stockList.length).toBeGreaterThanOrEqual(150);
    const owners = new Map<string, string>();
    for (const kind of stockList)
      for (const region of ['metric', 'us'] as const) {
        const item = itemOfKind(kind, region, emptyBooks);
        expect(item.costMinor).toBeNull();
        for (const name of [item.id, item.name.toLowerCase(), ...item.also.map((one) => one.toLowerCase())]) {
          expect([name, owners.get(name) ?? kind.id]).toEqual([name, kind.id]);
          owners.set(name, kind.id);
        }
      }
  });

  it('fills what the standards of fill know', () => {
    for (const kind of stockList) {
      const [metric, us] = (['metric', 'us'] as const).map(
        (region) => itemOfKind(kind, region, emptyBooks).size / 1000,
      ) as [number, number];
      const sizes = nominal[kind.kind];
      if (sizes === undefined || outside.has(kind.id)) continue;
      expect([kind.id, sizes.includes(metric)]).toEqual([kind.id, true]);
      const isUs =
        kind.kind === 'wine' || kind.kind === 'fortified'
          ? usWine.includes(us)
          : isUsSpiritSize(us, '2026-01-01');
      expect([kind.id, isUs]).toEqual([kind.id, true]);
    }
  });

  it('finds by what is typed: an own name before a word, a word before a part', () => {
    const first = (text: string): string | undefined => findKinds(text)[0]?.id;
    expect(['gin', 'lime j', 'simple', 'rye', 'egg white', 'limes', 'zzz'].map(first)).toEqual([
      'dry-gin',
      'lime-juice',
      'simple-syrup',
      'rye',
      'egg-white',
      'limes',
      undefined,
    ]);
  });
});

const everything = new Map(
  stockList.map((kind) => {
    const item = itemOfKind(kind, 'metric', emptyBooks);
    return [item.id, item] as const;
  }),
);

const totals: Readonly<Record<string, readonly [ml: number, ethanol: number]>> = {
  Daiquiri: [80, 24],
  Negroni: [90, 24.3],
  Americano: [60, 12.3],
  Boulevardier: [105, 30.3],
  Manhattan: [70, 23.2],
  'Dry Martini': [70, 25.8],
  Cardinale: [70, 22.1],
  Margarita: [85, 28],
  Sidecar: [90, 28],
  'White Lady': [90, 28],
  'Between the Sheets': [110, 36],
  'Old Fashioned': [45, 18],
  'Mai Tai': [127.5, 30],
  'French 75': [120, 19.2],
  // With its rinse, which the table's ethanol leaves out: 20 and 10 ml at 40 %.
  Sazerac: [60, 24],
  'Cuba Libre': [180, 20],
};
const strengths: Readonly<Record<string, number>> = {
  'red-bitter': 25,
  'sweet-vermouth': 16,
  'dry-vermouth': 18,
  champagne: 12,
};
const isSpirit = (id: string): boolean =>
  ['spirit', 'liqueur'].includes(everything.get(id as never)?.kind ?? '');

describe('the published cards', () => {
  const specs = publishedSpecs({ ...emptyBooks, items: everything });
  it('are all of the list, marked as such and without a price', () => {
    expect(specs.map(({ name }) => name)).toEqual(publishedNames);
    expect(Object.keys(totals)).toEqual(publishedNames);
    for (const { tags, priceMinor } of specs) expect([tags[0], priceMinor]).toEqual(['published', null]);
  });

  it.each(specs.map((spec) => [spec.name, spec] as const))(
    '%s: its millilitres and their ethanol',
    (name, spec) => {
      const inMl = spec.measures.filter(({ unit }) => unit === 'ml');
      const sum = inMl.reduce((all, { quantity }) => all + Number(quantity), 0);
      // The rinse is in the total of the table and its ethanol is not: there it stands at 40 %, ours is given with it.
      const ethanol = inMl.reduce(
        (all, { quantity, item }) =>
          all + (Number(quantity) * (strengths[item] ?? (isSpirit(item) ? 40 : 0))) / 100,
        0,
      );
      const [ml, pure] = totals[name] ?? [0, 0];
      expect(Math.abs(sum - ml)).toBeLessThanOrEqual(0.05);
      expect(Math.abs(ethanol - pure)).toBeLessThanOrEqual(0.05);
    },
  );

  it('takes limes for lime juice, and the first whiskey there is; what lacks something is left out', () => {
    const some = (...ids: string[]) =>
      publishedSpecs({
        ...emptyBooks,
        items: new Map(ids.map((id) => [id as never, everything.get(id as never) as never])),
      });
    expect(some('tequila', 'triple-sec', 'limes').map(({ name }) => name)).toEqual(['Margarita']);
    expect(some('rye', 'red-bitter', 'sweet-vermouth').map(({ name }) => name)).toEqual(['Boulevardier']);
    expect(some('bourbon', 'rye', 'red-bitter', 'sweet-vermouth')[0]?.measures[0]?.item).toBe('bourbon');
    expect(some('dry-gin')).toEqual([]);
  });
});

describe('where a house is, by its zone (IANA tz database; ISO 3166-1, ISO 4217)', () => {
  it.each([
    ['Europe/London', 'GB', 'GBP', 'metric', 'ml', 'imperial'],
    ['Europe/Dublin', 'IE', 'EUR', 'metric', 'ml', 'imperial'],
    ['America/New_York', 'US', 'USD', 'us', 'oz', 'us'],
    ['America/Toronto', 'CA', 'CAD', 'us', 'ml', 'us'],
    ['Asia/Tokyo', 'JP', 'JPY', 'metric', 'ml', 'us'],
    ['Asia/Kolkata', 'IN', 'INR', 'metric', 'ml', 'us'],
    ['UTC', null, 'EUR', 'metric', 'ml', 'us'],
    ['Nowhere/At_All', null, 'EUR', 'metric', 'ml', 'us'],
  ])('%s: %s, %s, %s bottles, %s, %s pint', (zone, country, currency, region, units, ounce) => {
    expect([countryOf(zone), currencyOf(country), regionOf(country), measuresOf(country)]).toEqual([
      country,
      currency,
      region,
      { units, ounce },
    ]);
  });
});
