// Which cards a new price moves past the target, and only these.
import { expect, it } from 'vitest';
import { readSpecs } from '../../../src/domain/card/spec-card.ts';
import { houseOf } from '../../../src/domain/catalogue/house.ts';
import { movedPast, pastTargetText } from '../../../src/domain/drink/target.ts';
import { type Books, emptyBooks } from '../../../src/domain/ledger/books.ts';
import { readItems } from '../../../src/exchange/file/item-csv.ts';

function house(target: string): Books {
  const items = readItems(
    'id,name,kind,size,cost\ngin,gin,spirit,700 ml,14.00\nrye,rye,spirit,700 ml,14.00\n',
    emptyBooks,
  );
  if (!items.ok) throw new Error('items');
  const bare = {
    ...emptyBooks,
    house: houseOf(new Map([['target-pour-cost', target]])),
    items: new Map(items.value.map((item) => [item.id, item])),
  };
  // 50 ml cost 1.00: a tenth, a fifth and half of these prices.
  const cards = ['Cheap 10.00', 'Near 5.00', 'Dear 2.00'].map((text) => {
    const [name, price] = text.split(' ');
    return `# ${name}\nprice: ${price}\n50 ml gin\ndo: stir\n`;
  });
  const specs = readSpecs(`${cards.join('')}# Other\nprice: 5.00\n50 ml rye\ndo: stir\n`, bare);
  if (!specs.ok) throw new Error(specs.problems[0]?.message);
  return { ...bare, specs: new Map(specs.value.map((spec) => [spec.id, spec])) };
}

const dearer = (books: Books, costMinor: number) => {
  const gin = books.items.get('gin' as never);
  if (gin === undefined) throw new Error('gin');
  return movedPast([{ ...gin, costMinor }], books);
};

it('names what was at or under the target and is over it now; not what was over before, nor what has no part in it', () => {
  const books = house('20');
  expect(
    dearer(books, 1500).map(({ spec, from, to }) => [spec.name, from.toFixed(1), to.toFixed(1)]),
  ).toEqual([['Near', '20.0', '21.4']]);
  expect(dearer(books, 1400)).toEqual([]);
  expect(dearer(books, 3000).map(({ spec }) => spec.name)).toEqual(['Near', 'Cheap']);
  expect(pastTargetText(dearer(books, 1500), 20)).toBe('Past the target of 20 % by this price: Near 21.4 %.');
});

it('says nothing where the house has no target', () => {
  expect(dearer(house('0'), 9000)).toEqual([]);
  expect(pastTargetText([], 20)).toBe('');
});
