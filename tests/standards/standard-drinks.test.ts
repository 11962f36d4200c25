// Standard drinks. USA: 14 g (NIAAA, published). UK: 1 unit = 10 ml (published, seen second-hand). Australia and New
// Zealand: 10 g, litres × % × 0.789 (published, seen second-hand). The UK unit is a volume, the others are masses.
import { describe, expect, it } from 'vitest';
import { houseOf } from '../../src/domain/catalogue/house.ts';
import { standardDrinks, standardDrinksText } from '../../src/domain/drink/drink.ts';
import { near } from '../support/near.ts';

const oz = 29.5735295625;
describe('standard drinks', () => {
  it.each([
    ['Europe/London', '2.0 UK units'],
    ['Australia/Sydney', '1.6 standard drinks of 10 g'],
    ['Pacific/Auckland', '1.6 standard drinks of 10 g'],
    ['Europe/Dublin', '1.1 US standard drinks'],
    ['America/New_York', '1.1 US standard drinks'],
  ])('20 ml of ethanol in %s: %s', (zone, text) => {
    expect(standardDrinksText(standardDrinks(20), houseOf(new Map([['zone', zone]])))).toBe(text);
  });

  it('1.5 US fl oz at 40 %, 12 at 5 %, 5 at 12 % are one US drink each', () => {
    near(standardDrinks(1.5 * oz * 0.4).us, 1, 0.001);
    near(standardDrinks(12 * oz * 0.05).us, 1, 0.001);
    near(standardDrinks(5 * oz * 0.12).us, 1, 0.001);
  });
  it('UK: a pint at 5 % is 2.84 units, 25 ml at 40 % is 1, 175 ml at 12 % is 2.1', () => {
    near(standardDrinks(568.26125 * 0.05).uk, 2.84, 0.005);
    expect(standardDrinks(25 * 0.4).uk).toBe(1);
    near(standardDrinks(175 * 0.12).uk, 2.1, 1e-12);
  });
  it('Australia: 375 ml at 4.8 % is 1.42, 750 ml at 12.5 % is 7.40', () => {
    near(standardDrinks(375 * 0.048).au, 1.42, 0.005);
    near(standardDrinks(750 * 0.125).au, 7.4, 0.005);
  });
  it('Canada: 341 ml at 5 % are 13.45 g', () => near(341 * 0.05 * 0.789, 13.45, 0.01));
});
