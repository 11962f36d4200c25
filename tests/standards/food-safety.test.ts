// Food safety and allergens as information. FDA Food Code 2022, 3-501.17 (wording as Minnesota Rules 4626.0400, published),
// 3-603.11; Regulation (EU) 1169/2011 Annex II (published); FALCPA 2004 and FASTER Act 2021 (published: FDA).
import { describe, expect, it } from 'vitest';
import { readSpecs } from '../../src/domain/card/spec-card.ts';
import { houseOf } from '../../src/domain/catalogue/house.ts';
import { allergenLists } from '../../src/domain/drink/allergens.ts';
import { drinkFigures } from '../../src/domain/drink/drink.ts';
import { emptyBooks } from '../../src/domain/ledger/books.ts';
import { discardDate, discardDateOfMixture } from '../../src/domain/standard/food-dates.ts';
import { readItems } from '../../src/exchange/file/item-csv.ts';

describe('seven days, the first one counted', () => {
  it('prepared 2025-03-01: by the end of 03-07, not 03-08', () =>
    expect(discardDate({ since: '2025-03-01' })).toBe('2025-03-07'));
  it('prepared 2024-02-26: 2024-03-03 in a leap year', () =>
    expect(discardDate({ since: '2024-02-26' })).toBe('2024-03-03'));
  it('a mixture takes its earliest part', () =>
    expect(discardDateOfMixture([{ since: '2025-03-04' }, { since: '2025-03-01' }])).toBe('2025-03-07'));
  it("never past the maker's date", () =>
    expect(discardDate({ since: '2025-03-01', useBy: '2025-03-04' })).toBe('2025-03-04'));
});

function figures(house: 'us' | 'eu', itemLine: string, measure: string) {
  const books = { ...emptyBooks, house: houseOf(new Map([['allergens', house]])) };
  const items = readItems(
    `id,name,kind,size,abv,allergens,caution\n${itemLine}\nbase,base,spirit,700 ml,40,,\n`,
    books,
  );
  if (!items.ok) throw new Error(items.problems[0]?.message);
  const stocked = { ...books, items: new Map(items.value.map((item) => [item.id, item])) };
  const specs = readSpecs(`# Drink\n50 ml base\n${measure}\ndo: shake\n`, stocked);
  const drink = specs.ok ? drinkFigures(specs.value[0] as never, stocked) : specs;
  if (!drink.ok) throw new Error(drink.problems[0]?.message);
  return drink.value;
}

describe('allergens', () => {
  it('orgeat: tree nuts by the US nine, nuts by the EU fourteen', () => {
    expect(figures('us', 'orgeat,orgeat,syrup,700 ml,,almond,', '10 ml orgeat').allergens).toEqual([
      'tree nuts',
    ]);
    expect(figures('eu', 'orgeat,orgeat,syrup,700 ml,,almond,', '10 ml orgeat').allergens).toEqual(['nuts']);
  });
  it('nine and fourteen', () => expect([allergenLists.us.length, allergenLists.eu.length]).toEqual([9, 14]));
});

describe('raw egg (3-603.11)', () => {
  it('is said; with pasteurised egg it is not', () => {
    expect(figures('eu', 'egg,egg white,egg,1 each,,eggs,', '1 egg white').cautions.join()).toContain(
      'raw egg',
    );
    expect(
      figures('eu', 'egg,egg white,egg,1 each,,eggs,pasteurised', '1 egg white').cautions.join(),
    ).not.toContain('raw egg');
  });
  it('a strong drink is said from two standard drinks up', () => {
    expect(figures('us', 'x,extra,spirit,700 ml,40,,', '40 ml extra').cautions.join()).toContain(
      'standard drinks',
    );
    expect(figures('us', 'x,extra,spirit,700 ml,40,,', '10 ml extra').cautions.join()).not.toContain(
      'standard drinks',
    );
  });
});
