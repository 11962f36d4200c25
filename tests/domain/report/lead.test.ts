// What is put forward the next morning: sure after many looks and worth it; the rest is a line.
import { expect, it } from 'vitest';
import { newHouse } from '../../../src/domain/catalogue/house.ts';
import { closingReport } from '../../../src/domain/report/closing.ts';
import { leadOf, nextSteps, restLines, stepFor } from '../../../src/domain/report/lead.ts';
import { beyondOf, manyLooks } from '../../../src/domain/report/looks.ts';
import type { Report, ReportItem } from '../../../src/domain/report/report.ts';
import { looksText } from '../../../src/domain/report/words.ts';
import { anItem } from '../../support/shelf.ts';
import { counts, opens, stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const base = closingReport(
  booksAfter(stocks(anItem('gin')), counts('gin', 700), opens(), counts('gin', 700)),
);
if (base === null) throw new Error('a report');
const [one] = base.items;
const row = (name: string, missing: number, uncertainty: number, missingCostMinor: number): ReportItem => ({
  ...(one as ReportItem),
  name,
  missing,
  uncertainty,
  missingCostMinor,
  verdict:
    Math.abs(missing) <= uncertainty
      ? 'within-count-error'
      : Math.abs(missing) <= 2 * uncertainty
        ? 'likely'
        : 'real',
});
const of = (...rows: readonly ReportItem[]): Report => {
  const items = manyLooks(rows);
  return {
    ...(base as Report),
    items,
    totals: { ...(base as Report).totals, counted: items.length, ...beyondOf(items) },
  };
};
const quiet = Array.from({ length: 50 }, (_, index) => row(`quiet ${index}`, 10, 60, 30));
const names = (rows: readonly ReportItem[]): string[] => rows.map(({ name }) => name);

it('a figure that fifty looks would give by chance is not put forward, and keeps its own verdict', () => {
  // 4.2 standard deviations: p = 2.7e-5, q = 51 × that. 2.1 of them alone: p = 0.036, among 51 q = 1.
  const report = of(row('sure', 126, 60, 900), ...quiet);
  expect(names(leadOf(report, newHouse).real)).toEqual(['sure']);
  const lonely = of(row('unsure', 126, 120, 900), ...quiet);
  const lead = leadOf(lonely, newHouse);
  expect([names(lead.real), names(lead.perhaps)]).toEqual([[], ['unsure']]);
  expect(lonely.items[0]?.q).toBeGreaterThan(0.1);
});

it('what is worth less than the floor is not put forward, however sure it is', () => {
  const lead = leadOf(of(row('lime', 9, 1, 40), ...quiet), newHouse);
  expect([names(lead.real), names(lead.perhaps)]).toEqual([[], ['lime']]);
});

it('says how many would be by chance', () => {
  // P(|Z| > 2) = 0.0455; 51 of them 2.32.
  const report = of(row('sure', 126, 60, 900), ...quiet);
  expect(report.totals).toMatchObject({ beyond: 1, beyondByChance: 2.32 });
  expect(looksText(report)).toBe('1 of 51 beyond their ±; about 2 would be by chance');
});

it('folds the rest to a line, and names what to do of the others', () => {
  const report = of(row('sure', 126, 60, 900), row('more', -300, 60, -2000), ...quiet);
  const lead = leadOf(report, newHouse);
  expect(names(lead.real)).toEqual(['more', 'sure']);
  expect(restLines(lead)).toEqual(['50 items within their ±']);
  expect(nextSteps(report, lead, newHouse)).toEqual([
    'Look for a delivery or a move of more that was not entered.',
    'Weigh sure before and after a night; ask for a drink not tapped, a spill not entered.',
  ]);
});

it('with nothing to put forward there is nothing to do', () => {
  const report = of(...quiet);
  expect(nextSteps(report, leadOf(report, newHouse), newHouse)).toEqual([
    'Nothing: what is missing is no more than reading bottles leaves open.',
  ]);
});

it('what is missing or extra by whole containers is told as that', () => {
  const said = (missing: number, uncertainty = 60): string =>
    stepFor({ ...row('gin', missing, uncertainty, 1000), unit: 'ml', size: 700, pieces: null }, newHouse);
  expect(said(690)).toBe(
    'About 1 bottle of gin gone whole: look for a delivery entered twice, a move not entered, one that broke.',
  );
  expect(said(-1450)).toBe(
    'About 2 bottles of gin more than the books have: look for a delivery or a move that was not entered.',
  );
  // Half a bottle is a pour; and with a wide ± nobody can tell.
  expect([said(350), said(690, 400)].map((text) => text.startsWith('Weigh'))).toEqual([true, true]);
});
