// What an event says to a person: one line, in the past.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { emptyBooks } from '../../../src/domain/ledger/books.ts';
import { describeEvent } from '../../../src/domain/ledger/describe.ts';
import type { Event } from '../../../src/domain/ledger/event.ts';
import { nights } from '../../support/events.ts';
import { anItem, aPiece, aSpec, eventIdOf } from '../../support/shelf.ts';
import {
  counts,
  joins,
  loses,
  opens,
  pours,
  receives,
  type Step,
  seals,
  sets,
  stocks,
  straight,
  writes,
} from '../../support/steps.ts';
import { booksAfter, told } from '../../support/told.ts';

const gin = anItem('gin', { name: 'Dry gin' });
const quay = aSpec('quay', ['60 ml gin'], { name: 'Quay' });
const shelf = [...stocks(gin, aPiece('egg', { name: 'Egg' })), ...writes(quay), joins('Ines')];
const said = (step: Step, ...more: readonly Step[]): string =>
  describeEvent(told(step).at(-1) as Event, booksAfter(shelf, more));

it('says what was poured, what as, and what was changed', () => {
  const changed = pours('quay', 1, [['gin', 60]], { as: 'comp', changes: ['-egg', 'gin=45ml'] });
  expect(said({ ...pours('quay', 2, [['gin', 120]]), name: 'Quay' })).toBe('Poured 2 Quay');
  expect(said({ ...changed, name: 'Quay' })).toBe('Poured 1 Quay, comp, with -egg, gin=45ml');
  expect(said(straight(1, ['gin', 40]))).toBe('Poured 40 ml Dry gin');
  // 120 ml in three glasses: 40 each.
  expect(said(straight(3, ['gin', 120], { as: 'staff' }))).toBe('Poured 3 × 40 ml Dry gin, staff');
  expect(said(straight(1, ['egg', 2]))).toBe('Poured 2 Egg');
});

it('says what moved, what was lost and what came in', () => {
  expect(said(loses('gin', 50, 'spill'))).toBe('Lost 50 ml Dry gin (spill)');
  expect(said(receives('gin', 6, 4200))).toBe('Received 6 × Dry gin at bar');
  expect(said(receives('gin', 6, 4200, 1890))).toBe('Received 6 × Dry gin at bar, 18.90 each');
  expect(said(receives('gin', 1, 700, 0))).toBe('Received 1 × Dry gin at bar, 0.00 each');
  const moved = {
    kind: 'stock-moved',
    item: 'gin',
    from: 'cellar',
    to: 'bar',
    containers: 2,
    amount: 1_400_000,
  } as const;
  expect(said(moved)).toBe('Moved 2 × Dry gin from cellar to bar');
  expect(said({ kind: 'bottle-opened', item: 'gin', place: 'bar' })).toBe('Opened Dry gin at bar');
});

it('says a count with its reading, once', () => {
  expect(said(counts('gin', 1890, { reading: '2.7' }))).toBe('Counted Dry gin at bar: 2.7 = 1\u202f890 ml');
  expect(said(counts('gin', 1890, { reading: '1\u202f890 ml' }))).toBe(
    'Counted Dry gin at bar: 1\u202f890 ml',
  );
  expect(said(counts('egg', 0, { reading: '0', again: true, note: 'box was empty' }))).toBe(
    'Counted Egg at bar: 0, second look (box was empty)',
  );
});

it("speaks in the house's unit and money", () => {
  expect(said(loses('gin', 50), sets('units', 'cl'))).toBe('Lost 5.0 cl Dry gin (spill)');
  // The yen has no decimals: ISO 4217:2015, list one.
  expect(said(receives('gin', 1, 700, 3200), sets('currency', 'JPY'))).toBe(
    'Received 1 × Dry gin at bar, 3200 each',
  );
});

it('says what was written and who works here', () => {
  expect(said(sets('units', 'cl'))).toBe('Set units to cl');
  expect(said(stocks(gin)[0] as Step)).toBe('Wrote item Dry gin');
  expect(said(writes(quay)[0] as Step)).toBe('Wrote spec Quay');
  expect(said(joins('Zoe'))).toBe('Zoe works here');
  expect(said({ kind: 'person-left', person: 'ines' })).toBe('Ines no longer works here');
});

it('says what became of a shift', () => {
  expect(said(opens('2026-11-20'))).toBe('Opened the shift of Fri 20 Nov');
  expect(describeEvent(told(opens(), seals()).at(-1) as Event, emptyBooks)).toBe('Sealed the shift');
  expect(said({ kind: 'handed-over', to: 'ines' })).toBe('Ines pouring');
  expect(said({ kind: 'handed-over', to: null })).toBe('nobody pouring');
});

it('says what was remarked, and a correction with its sign', () => {
  expect(said({ kind: 'note-written', item: null, text: 'quiet' })).toBe('Noted: quiet');
  expect(said({ kind: 'note-written', item: 'gin', text: 'lent out' })).toBe('Noted on Dry gin: lent out');
  const corrected = (amount: number): Step => ({
    kind: 'report-corrected',
    item: 'gin',
    what: 'received',
    amount,
    why: 'delivery note found',
  });
  expect(said(corrected(700_000))).toBe(
    'Corrected a sealed report: Dry gin, received +700 ml (delivery note found)',
  );
  expect(said(corrected(-60_000))).toBe(
    'Corrected a sealed report: Dry gin, received −60 ml (delivery note found)',
  );
});

it('says what the till sold and means', () => {
  const sold = { kind: 'drink-sold', drink: 'QUAY', count: 3, soldAt: '2026-11-20T21:00:00.000Z' } as const;
  expect(said({ ...sold, priceMinor: null, seller: null })).toBe('The till sold 3 QUAY');
  const means = (spec: string | null) => said({ kind: 'till-name-matched', drink: 'Q', spec });
  expect(means('quay')).toBe('The till\'s "Q" is Quay');
  expect(means('gone')).toBe('The till\'s "Q" is gone');
  expect(means(null)).toBe('The till\'s "Q" is nothing we pour');
});

it('says what was compared, ticked, left out and taken back', () => {
  expect(
    said({ kind: 'readings-compared', item: 'gin', size: 700_000, eye: 350_000, weighed: 322_500 }),
  ).toBe('Compared Dry gin: 350 ml by eye, 323 ml on the scale');
  expect(said({ kind: 'mise-ticked', line: 'ice', done: true })).toBe('Ready: ice');
  expect(said({ kind: 'mise-ticked', line: 'ice', done: false })).toBe('Not ready: ice');
  expect(said({ kind: 'mise-edited', line: 'mats', kept: true })).toBe('Added to the mise en place: mats');
  expect(said({ kind: 'mise-edited', line: 'mats', kept: false })).toBe(
    'Left out of the mise en place: mats',
  );
  expect(said({ kind: 'event-taken-back', target: eventIdOf(1) })).toBe('Took back an event');
});

it('calls what it does not know by its id', () => {
  expect(said(loses('absent', 50))).toBe('Lost 50 ml absent (spill)');
  expect(said({ kind: 'handed-over', to: 'gone' })).toBe('gone pouring');
});

it('says one line of every event, whatever the books know', () => {
  fc.assert(
    fc.property(nights(12), (events) => {
      for (const event of events) expect(describeEvent(event, emptyBooks)).toMatch(/^[^\n]+$/);
    }),
    { numRuns: 30 },
  );
});
