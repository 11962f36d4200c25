// Amounts with their units, as a house measures.
import { expect, it } from 'vitest';
import { houseOf, newHouse } from '../../../src/domain/catalogue/house.ts';
import { amountOf, splitQuantity } from '../../../src/domain/catalogue/units.ts';

const read = (text: string, house = newHouse): string => {
  const split = splitQuantity(text, house);
  if (split === null) return 'no';
  const amount = amountOf(split.quantity, split.unit, house);
  return `${amount?.amount} ${amount?.unit} ${split.rest}`.trim();
};

it.each([
  ['60 ml dry gin', '60000 ml dry gin'],
  ['60ml dry gin', '60000 ml dry gin'],
  ['6 cl gin', '60000 ml gin'],
  ['2 oz gin', '59147 ml gin'],
  ['¾ oz gin', '22180 ml gin'],
  ['1 1/2 oz gin', '44360 ml gin'],
  ['1½ oz gin', '44360 ml gin'],
  ['3/4 oz gin', '22180 ml gin'],
  ['2 dash aromatic bitters', '1800 ml aromatic bitters'],
  ['2 dashes of aromatic bitters', '1800 ml aromatic bitters'],
  ['1 barspoon maraschino', '5000 ml maraschino'],
  ['8 leaf mint', '160 each mint'],
  ['8 leaves mint', '160 each mint'],
  ['4 wedge lime', '500 each lime'],
  ['1 cube sugar', '1000 each sugar'],
  ['top soda', '90000 ml soda'],
  ['rinse anise spirit', '5000 ml anise spirit'],
  ['½ each lime', '500 each lime'],
  ['1 egg white', '1000 each egg white'],
  ['1 kg sugar', '1000000 g sugar'],
  ['lime', 'no'],
  ['-5 ml gin', 'no'],
])('%s', (text, expected) => expect(read(text)).toBe(expected));

it('follows the house: what an ounce is, and how big its dash', () => {
  expect(read('1.5 oz gin', houseOf(new Map([['ounce', '30ml']])))).toBe('45000 ml gin');
  expect(read('1 oz gin', houseOf(new Map([['ounce', 'imperial']])))).toBe('28413 ml gin');
  expect(read('2 dash bitters', houseOf(new Map([['dash', '0.8']])))).toBe('1600 ml bitters');
});
