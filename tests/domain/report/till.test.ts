// The till beside the tally: names, differences, and what they would have taken off the shelf.
import { expect, it } from 'vitest';
import type { Sale } from '../../../src/domain/ledger/event.ts';
import type { ReportDrink } from '../../../src/domain/report/report.ts';
import { meaningOf, tillRows, unloggedAmounts, unloggedUnits } from '../../../src/domain/report/till.ts';
import { anItem, aSpec, specIdOf } from '../../support/shelf.ts';
import { type Step, stocks, writes } from '../../support/steps.ts';
import { booksAfter, told } from '../../support/told.ts';

const matched = (drink: string, spec: string | null): Step => ({ kind: 'till-name-matched', drink, spec });
const bar = (...steps: readonly Step[]) =>
  booksAfter(
    stocks(anItem('gin'), anItem('rye'), anItem('plum')),
    writes(
      aSpec('mole-end', ['40 ml gin', '20 ml plum'], { name: 'Mole End', also: ['mole'] }),
      aSpec('tin-roof', ['50 ml rye', '20 ml plum'], { name: 'Tïn Roof' }),
      aSpec('broken', ['50 ml absent'], { name: 'Broken' }),
    ),
    steps,
  );
const sold = (...lines: readonly (readonly [drink: string, count: number])[]): Sale[] =>
  told(
    lines.map(([drink, count]) => ({
      kind: 'drink-sold' as const,
      drink,
      count,
      soldAt: '2026-11-20T21:00:00.000Z',
      priceMinor: null,
      seller: null,
    })),
  ).filter((event): event is Sale => event.kind === 'drink-sold');
const logged = (spec: string, sale: number, comp = 0): ReportDrink => ({
  spec: specIdOf(spec),
  name: spec,
  count: sale + comp,
  as: { sale, comp },
  soldMinor: 0,
});

it('knows a name by the card, by another name, whatever its capitals, accents and stops', () => {
  for (const name of ['Mole End', 'MOLE', 'mole-end', ' mole  end '])
    expect(meaningOf(name, bar()), name).toBe('mole-end');
  expect(meaningOf('TIN ROOF', bar())).toBe('tin-roof');
  expect(meaningOf('Mole', bar(matched('mole', 'tin-roof')))).toBe('tin-roof');
});

it('tells a name nobody matched from one that is nothing of ours', () => {
  expect(meaningOf('Cover charge', bar())).toBeUndefined();
  expect(meaningOf('COVER CHARGE', bar(matched('Cover charge', null)))).toBeNull();
});

const tally = (drinks: readonly ReportDrink[]) => ({ drinks, straights: [] });

it('sets sold against logged, the largest difference first', () => {
  const rows = tillRows(
    sold(['Mole End', 3], ['mole', 2], ['tin roof', 4]),
    tally([logged('mole-end', 4, 9), logged('tin-roof', 7)]),
    bar(),
  );
  // 5 of 4: comps are no sales. 4 of 7.
  expect(
    rows.map(({ drink, sold: rung, logged: tapped, difference }) => [drink, rung, tapped, difference]),
  ).toEqual([
    ['Tïn Roof', 4, 7, -3],
    ['Mole End', 5, 4, 1],
  ]);
});

it('lists what was logged and never sold, and what was sold and never logged', () => {
  const rows = tillRows(sold(['mole', 2]), tally([logged('tin-roof', 1), logged('broken', 0, 3)]), bar());
  expect(rows.map(({ spec, difference }) => [spec, difference])).toEqual([
    ['mole-end', 2],
    ['tin-roof', -1],
  ]);
});

it('puts names to be matched first and what is not ours last, lines of one name together', () => {
  const rows = tillRows(
    sold(['Cover', 9], ['Cloak room', 1], ['mole', 1], ['CLOAK ROOM', 2]),
    tally([]),
    bar(matched('cover', null)),
  );
  expect(rows.map(({ drink, match, sold: many, logged: tapped }) => [drink, match, many, tapped])).toEqual([
    ['Cloak room', 'unknown', 3, null],
    ['Mole End', 'spec', 1, 0],
    ['Cover', 'not-ours', 9, null],
  ]);
});

it('works out what unlogged drinks would have taken', () => {
  const books = bar(matched('cover', null));
  const rows = tillRows(
    sold(['mole', 5], ['cover', 3]),
    tally([logged('mole-end', 2), logged('tin-roof', 1)]),
    books,
  );
  const amounts = unloggedAmounts(rows, books, books);
  // Three more of the one: 120 gin, 60 plum; one less of the other: −50 rye, −20 plum.
  expect(Object.fromEntries(amounts)).toEqual({ gin: 120_000, plum: 40_000, rye: -50_000 });
  expect([unloggedUnits(amounts, 'plum'), unloggedUnits(amounts, 'salt')]).toEqual([40, 0]);
});

it('cancels a drink that was tapped under a wrong name where the two share an item', () => {
  const rows = tillRows(sold(['mole', 1]), tally([logged('tin-roof', 1)]), bar());
  expect(unloggedAmounts(rows, bar(), bar()).get('plum')).toBe(0);
});

it('has no amounts for a card it cannot read', () => {
  const rows = tillRows(sold(['broken', 4]), tally([]), bar());
  expect([rows[0]?.difference, unloggedAmounts(rows, bar(), bar()).size]).toEqual([4, 0]);
});

it('is empty without lines and drinks', () => {
  expect(tillRows([], tally([]), bar())).toEqual([]);
});
