// The mise en place: what tonight's cards call for, edited by hand and ticked off.
import { expect, it } from 'vitest';
import { miseLines } from '../../../src/domain/service/mise.ts';
import { anItem, aPiece, aSpec } from '../../support/shelf.ts';
import { at, opens, type Step, seals, stocks, writes } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const items = stocks(
  anItem('gin', { name: 'Dry gin' }),
  anItem('lemon', { name: 'Lemon juice', kind: 'juice' }),
  aPiece('egg', { name: 'Egg white' }),
  aPiece('lime', { name: 'Lime', kind: 'fruit' }),
);
const quay = aSpec('quay', ['60 ml gin', '22.5 ml lemon', '2 dash gin', '90 ml gin'], {
  method: 'Shake; double strain',
  glass: 'Coupe',
  ice: 'none',
  garnish: 'lemon twist and a cherry',
});
const jetty = aSpec('jetty', ['60 ml gin', '1 each egg'], {
  method: 'Stir over ice',
  glass: 'coupe',
  ice: 'cubes',
  garnish: 'grated nutmeg',
});
const listed = (...steps: readonly Step[]): string[] =>
  miseLines(booksAfter(items, steps)).map(({ part, text, specs }) => `${part} ${text} ${specs}`);

it('gathers tools, jiggers, glasses, ice, garnishes and what is fresh, most wanted first', () => {
  expect(listed(...writes(quay, jetty))).toEqual([
    'tool strainer 2',
    'tool bar spoon 1',
    'tool fine strainer 1',
    'tool juicer 1',
    'tool mixing glass 1',
    'tool peeler 1',
    'tool shaker 1',
    'jigger 60 ml 2',
    'jigger 22.5 ml 1',
    'glass coupe 2',
    'ice ice cubes 1',
    'garnish a cherry 1',
    'garnish grated nutmeg 1',
    'garnish lemon twist 1',
    'fresh Egg white 1',
    'fresh Lemon juice 1',
  ]);
});

it('is empty where nothing is poured', () => {
  expect(listed()).toEqual([]);
});

it('names ice as a person asks for it', () => {
  const iceOf = (ice: string) =>
    listed(...writes(aSpec('ice', ['60 ml gin'], { ice }))).filter((text) => text.startsWith('ice'));
  expect(iceOf('crushed')).toEqual(['ice crushed ice 1']);
  expect(iceOf('One big cube')).toEqual(['ice one big cube 1']);
  expect(iceOf('pebble ice')).toEqual(['ice pebble ice 1']);
  expect(iceOf('none')).toEqual([]);
  expect(iceOf('')).toEqual([]);
});

it('asks for a juicer where fruit is squeezed', () => {
  expect(listed(...writes(aSpec('squeeze', ['1 each lime'])))).toContain('tool juicer 1');
  expect(listed(...writes(aSpec('plain', ['60 ml gin'])))).not.toContain('tool juicer 1');
});

it('reads words of a method as words: a shaker is not yet a shake', () => {
  const toolsOf = (method: string) =>
    listed(...writes(aSpec('word', ['60 ml gin'], { method }))).filter((text) => text.startsWith('tool'));
  expect(toolsOf('swizzle')).toEqual(['tool swizzle stick 1']);
  expect(toolsOf('milkshake on the side')).toEqual([]);
});

const edited = (line: string, kept: boolean): Step => ({ kind: 'mise-edited', line, kept });
const ticked = (line: string, done: boolean): Step => ({ kind: 'mise-ticked', line, done });

it('takes lines by hand, and leaves out what the house does without', () => {
  const list = listed(...writes(jetty), edited('Bar mats', true), edited('BAR SPOON', false));
  expect(list.at(-1)).toBe('own Bar mats 0');
  expect(list).not.toContain('tool bar spoon 1');
  expect(listed(...writes(jetty), edited('bar spoon', false), edited('bar spoon', true))).toContain(
    'tool bar spoon 1',
  );
  expect(listed(edited('Bar mats', true), edited('bar mats', false))).toEqual([]);
});

it('ticks a line until the shift is sealed', () => {
  const done = (...steps: readonly Step[]) =>
    miseLines(booksAfter(items, writes(jetty), opens(), steps)).find(({ text }) => text === 'strainer')?.done;
  const tick = at('2026-11-20T17:30:00.000Z', ticked('Strainer', true));
  expect(done()).toBeNull();
  expect(done(at('2026-11-20T18:30:00.000Z', ticked('Strainer', true)))).toBe('2026-11-20T18:30:00.000Z');
  expect(done({ ...tick, at: '2026-11-20T18:30:00.000Z' }, ticked('strainer', false))).toBeNull();
  expect(done({ ...tick, at: '2026-11-20T18:30:00.000Z' }, seals())).toBeNull();
});

it('keeps a long line as long as an event can hold', () => {
  const long = `${'very '.repeat(25)}long peel`;
  const [text = ''] = listed(...writes(aSpec('long', ['60 ml gin'], { garnish: long.slice(0, 120) })))
    .filter((line) => line.startsWith('garnish'))
    .map((line) => line.replace(/^garnish (.*) 1$/, '$1'));
  expect([...text]).toHaveLength(80);
  expect(text.endsWith('…')).toBe(true);
});
