// Changes of a card for one pour: double and half, less, more, another item, something left out.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { applyChanges } from '../../../src/domain/drink/changes.ts';
import { linesOf } from '../../../src/domain/drink/measures.ts';
import { anItem, aPiece, aSpec, codesOf, messagesOf, must } from '../../support/shelf.ts';
import { stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const bar = booksAfter(
  stocks(
    anItem('dry-gin', { name: 'Dry gin', also: ['juniper'] }),
    anItem('sloe-gin', { name: 'Sloe gin' }),
    anItem('rye', { name: 'Straight rye' }),
    anItem('plum', { name: 'Plum cordial', kind: 'cordial' }),
    anItem('shochu', { name: '焼酎' }),
    aPiece('egg', { name: 'Egg white' }),
  ),
);
const card = aSpec('mole-end', ['40 ml dry-gin', '15 ml plum', '1 each egg'], { name: 'Mole End' });

const changed = (changes: readonly string[], spec = card): string[] =>
  must(applyChanges(bar, spec, changes)).map(({ quantity, unit, item }) => `${quantity} ${unit} ${item}`);

it('doubles and halves every measure, fractions included', () => {
  expect(changed(['double'])).toEqual(['80 ml dry-gin', '30 ml plum', '2 each egg']);
  expect(changed(['half'])).toEqual(['20 ml dry-gin', '7 1/2 ml plum', '1/2 each egg']);
  const ounces = aSpec('ounces', ['1½ oz dry-gin', '3/4 oz plum', '1/3 oz rye']);
  expect(changed(['half'], ounces)).toEqual(['3/4 oz dry-gin', '3/8 oz plum', '1/6 oz rye']);
  expect(changed(['DOUBLE'], ounces)).toEqual(['3 oz dry-gin', '1 1/2 oz plum', '2/3 oz rye']);
});

it('gives back the same amounts when doubled and halved', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 9999 }), (tenths) => {
      const spec = aSpec('tide', [`${tenths / 10} ml dry-gin`]);
      const amounts = (changes: readonly string[]) =>
        must(linesOf(must(applyChanges(bar, spec, changes)), bar)).map(({ amount }) => amount);
      expect(amounts(['double', 'half'])).toEqual([tenths * 100]);
      expect(amounts(['double'])).toEqual([tenths * 200]);
    }),
  );
});

it('leaves out, adds, swaps and resizes', () => {
  expect(changed(['-egg white'])).toEqual(['40 ml dry-gin', '15 ml plum']);
  expect(changed(['+10ml sloe gin'])).toEqual([
    '40 ml dry-gin',
    '15 ml plum',
    '1 each egg',
    '10 ml sloe-gin',
  ]);
  expect(changed(['gin->straight rye'])).toEqual(['40 ml rye', '15 ml plum', '1 each egg']);
  expect(changed(['plum=1 oz'])).toEqual(['40 ml dry-gin', '1 oz plum', '1 each egg']);
  expect(changed([])).toEqual(['40 ml dry-gin', '15 ml plum', '1 each egg']);
});

it('answers to other names, to one word of a name and to other scripts', () => {
  expect(changed(['-JUNIPER'])).toEqual(['15 ml plum', '1 each egg']);
  expect(changed(['-cordial'])).toEqual(['40 ml dry-gin', '1 each egg']);
  expect(changed(['gin->焼酎'])).toEqual(['40 ml shochu', '15 ml plum', '1 each egg']);
});

it('applies changes in the order they were said', () => {
  expect(changed(['gin=30ml', 'double'])[0]).toBe('60 ml dry-gin');
  expect(changed(['double', 'gin=30ml'])[0]).toBe('30 ml dry-gin');
  expect(changed(['gin->rye', 'rye=25ml'])[0]).toBe('25 ml rye');
});

it('asks back when a word fits two measures or none', () => {
  const two = aSpec('two', ['20 ml dry-gin', '20 ml sloe-gin'], { name: 'Two Sails' });
  expect(messagesOf(applyChanges(bar, two, ['-gin']))).toEqual([
    '"gin" fits more than one measure of Two Sails. Name one of: Dry gin, Sloe gin.',
  ]);
  expect(messagesOf(applyChanges(bar, card, ['-rye']))).toEqual([
    '"rye" is not a measure of Mole End. Name one of: Dry gin, Plum cordial, Egg white.',
  ]);
  expect(codesOf(applyChanges(bar, card, ['-']))).toEqual(['unknown-measure']);
});

it('refuses what is no change, no amount or no item, and a glass with nothing in it', () => {
  const refused = (change: string): string[] => codesOf(applyChanges(bar, card, [change]));
  expect(refused('stronger')).toEqual(['bad-change']);
  expect(refused('')).toEqual(['bad-change']);
  expect(refused('=45ml')).toEqual(['bad-change']);
  expect(refused('gin=45 blobs')).toEqual(['bad-change']);
  expect(refused('gin=')).toEqual(['bad-change']);
  expect(refused('+plum cordial')).toEqual(['bad-change']);
  expect(applyChanges(bar, card, ['gin->no such thing at all']).ok).toBe(false);
  expect(messagesOf(applyChanges(bar, card, ['-gin', '-plum', '-egg']))).toEqual([
    'Nothing is left of Mole End. Leave at least one measure in.',
  ]);
});

it('never changes the card itself', () => {
  const before = JSON.stringify(card);
  changed(['double', '-egg', 'gin->rye']);
  expect(JSON.stringify(card)).toBe(before);
});
