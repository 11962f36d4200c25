// Amounts in what things come in, as a bar says them.
import { expect, it } from 'vitest';
import { amountIn, splitContainers } from '../../../src/domain/catalogue/container-words.ts';
import { anItem, codesOf, must } from '../../support/shelf.ts';

const gin = anItem('gin', { caseOf: 6 });
const amount = (text: string): number | null => {
  const held = splitContainers(text);
  return held === null ? null : must(amountIn(held, gin)) / 1000;
};

it.each([
  ['1 bottle', 700],
  ['a bottle', 700],
  ['half a bottle', 350],
  ['½ bottle', 350],
  ['1½ bottles', 1050],
  ['2 cases', 8400],
  ['a case', 4200],
  ['0.5 case', 2100],
  ['3 kegs', 2100],
  ['2 boxes', 1400],
  ['1 bottle of gin', 700],
])('%s is %s ml of a 700 ml bottle, six to the case', (text, ml) => expect(amount(text)).toBe(ml));

it.each(['6', '50 ml', 'bottle', '-1 bottle', '0 bottles', 'two bottles', '2 limes', ''])(
  '%j speaks of no number of containers',
  (text) => expect(amount(text)).toBeNull(),
);

it('keeps what was written after it', () => {
  expect(splitContainers('2 cases of dry gin')).toMatchObject({ isCase: true, rest: 'dry gin' });
  expect(splitContainers('1 bottle dry gin')).toMatchObject({ isCase: false, rest: 'dry gin' });
});

it('asks how many are in a case that nobody described', () => {
  const held = splitContainers('1 case');
  expect(held === null ? [] : codesOf(amountIn(held, anItem('rye')))).toEqual(['no-case']);
});
