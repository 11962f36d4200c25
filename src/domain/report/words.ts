// The sentences of a report, the same on the screen, on paper and on the page.

import { displayAmount, missingText, type Shown } from '../catalogue/display.ts';
import type { House } from '../catalogue/house.ts';
import { clockText, dateText, wallTime } from '../value/clock-date.ts';
import { formatMoney } from '../value/money.ts';
import type { CameAfter, Report, ReportItem, ReportLoss, Share } from './report.ts';

const moneyIn =
  (house: House) =>
  (minor: number): string =>
    `${formatMoney(minor, house.currency)} ${house.currency}`;

const percent = (value: number | null): string =>
  value === null ? 'without sales' : `${value.toFixed(2)} %`;

/** Missing and extra together in money, with their ±: "missing 12.30 ± 8.40 EUR". */
export function totalMissingText({ totals }: Report, house: House): string {
  const { missingCostMinor: missing, missingCostUncertaintyMinor: u } = totals;
  const word = missing < 0 ? 'extra' : 'missing';
  return `${word} ${formatMoney(Math.abs(missing), house.currency)} ± ${formatMoney(u, house.currency)} ${house.currency}`;
}

/** How the amounts of a row are said: as it is counted. */
const shownOf = ({ unit, pieces }: Pick<ReportItem, 'unit' | 'pieces'>): Shown => ({
  unit,
  pieces: pieces && { size: pieces.size * 1000, one: pieces.one },
});

export const amountIn = (row: Pick<ReportItem, 'unit' | 'pieces'>, value: number, house: House): string =>
  displayAmount(value * 1000, shownOf(row), house);

export const missingIn = (
  row: Pick<ReportItem, 'unit' | 'pieces'>,
  missing: number,
  uncertainty: number,
  house: House,
): string => missingText(missing * 1000, uncertainty * 1000, shownOf(row), house);

/** Kinds whose litres add up to something: what is sold by its strength. */
const summable = new Set(['spirit', 'liqueur', 'wine', 'beer']);

/** Money by kind, the dearest first, with litres where they mean something: "spirit 12.40 missing (0.31 l), mixer 0.90 extra". */
export function kindsText({ items }: Report, house: House): string {
  const kinds = new Map<string, { minor: number; ml: number }>();
  for (const row of items) {
    if (row.missing === null || row.improbable) continue;
    const sum = kinds.get(row.kind) ?? { minor: 0, ml: 0 };
    sum.minor += row.missingCostMinor ?? 0;
    if (row.unit === 'ml') sum.ml += row.missing;
    kinds.set(row.kind, sum);
  }
  return [...kinds]
    .filter(([, { minor }]) => Math.abs(minor) >= house.moneyFloorMinor)
    .sort(([, a], [, b]) => Math.abs(b.minor) - Math.abs(a.minor))
    .map(([kind, { minor, ml }]) => {
      const litres = summable.has(kind) ? ` (${Math.abs(ml / 1000).toFixed(2)} l)` : '';
      const word = minor > 0 ? 'missing' : 'extra';
      return `${kind} ${formatMoney(Math.abs(minor), house.currency)} ${word}${litres}`;
    })
    .join(', ');
}

/** What was entered as lost, in money. */
export const wentText = ({ totals, losses, house: { currency } }: Report): string =>
  losses.length === 0
    ? 'nothing was entered as lost'
    : `${formatMoney(totals.lostCostMinor, currency)} ${currency} at cost`;

/** What each of three percentages is, in four words. */
export const costWords = {
  pourCost: 'cost of drinks poured',
  standard: 'cost of drinks sold',
  actual: 'cost of all gone',
} as const;

/** "6 of 54 beyond their ±; about 2 would be by chance". */
export function looksText({ totals }: Report): string {
  if (totals.counted === 0) return 'nothing counted yet';
  const chance = Math.round(totals.beyondByChance);
  const said = chance === 0 ? 'none' : `about ${chance}`;
  return `${totals.beyond} of ${totals.counted} beyond their ±; ${said} would be by chance`;
}

/** What the pour cost does not know: drinks sold without a price, and things poured whose cost nobody wrote. Empty for none. */
export function unpricedText({ drinks, items }: Pick<Report, 'drinks' | 'items'>): string {
  const sold = drinks.reduce((sum, { as, soldMinor }) => sum + (soldMinor === 0 ? (as.sale ?? 0) : 0), 0);
  const poured = items.filter(({ isCosted, drawnBy }) => !isCosted && drawnBy.length > 0).length;
  return [
    sold === 0 ? '' : sold === 1 ? '1 drink sold has no price' : `${sold} drinks sold have no price`,
    poured === 0 ? '' : poured === 1 ? '1 thing poured has no cost' : `${poured} things poured have no cost`,
  ]
    .filter((text) => text !== '')
    .join(', ');
}

/** Each line stands for itself; the first is the one to remember. */
export function factLines(report: Report, house: House): string[] {
  const { totals, purposes } = report;
  const money = moneyIn(house);
  const others = purposes.filter(({ as }) => as !== 'sale');
  const kinds = kindsText(report, house);
  const unpriced = unpricedText(report);
  return [
    `${totals.counted} of ${totals.counted + totals.notCounted} items counted; ${looksText(report)}`,
    `all together ${totalMissingText(report, house)}${kinds === '' ? '' : `: ${kinds}`}`,
    `missing alone ${money(totals.missingAloneMinor)}, extra alone ${money(totals.extraAloneMinor)} at cost`,
    `poured ${money(totals.pouredCostMinor)} at cost, sold ${money(totals.soldMinor)}${unpriced === '' ? '' : `; ${unpriced}`}`,
    `of sales: pour cost (${costWords.pourCost}) ${percent(totals.pourCostPercent)}, standard (${costWords.standard}) ${percent(totals.standardPercent)}, actual (${costWords.actual}) ${percent(totals.actualPercent)}`,
    ...(others.length === 0
      ? []
      : [
          `not sold: ${others.map(({ as, count, costMinor }) => `${count} ${as} ${money(costMinor)}`).join(', ')} at cost`,
        ]),
    ...(totals.lostCostMinor === 0 ? [] : [`lost ${money(totals.lostCostMinor)} at cost`]),
  ];
}

/**
 * What drew on an item, what was lost, what the till would explain; and who poured, where it is read by the house alone. On
 * paper people stand only when asked for: their figures are personal data.
 */
export function reasonText(row: ReportItem, house: House, people: boolean): string {
  const amount = (value: number): string => amountIn(row, value, house);
  const list = (shares: readonly Share[], unnamed: string): string =>
    shares
      .slice(0, 5)
      .map(({ name, amount: much }) => `${name === '' ? unnamed : name} ${amount(much)}`)
      .join(', ');
  const parts = [
    row.drawnBy.length === 0 ? 'no drink drew on it' : `in ${list(row.drawnBy, 'straight measures')}`,
    row.pouredBy.length === 0 || !people ? '' : `poured by ${list(row.pouredBy, 'nobody named')}`,
    row.pouredAs.length === 0 ? '' : `of it ${list(row.pouredAs, '')}`,
    row.lostTo.length === 0 ? '' : `lost to ${list(row.lostTo, '')}`,
    row.unlogged === null || row.unlogged === 0 ? '' : unloggedText(row, amount),
  ];
  return parts.filter((part) => part !== '').join('; ');
}

function unloggedText(row: ReportItem, amount: (value: number) => string): string {
  const much = row.unlogged ?? 0;
  return much > 0
    ? `drinks the till sold and nobody logged would have taken ${amount(much)}`
    : `drinks logged and not in the till took ${amount(-much)}`;
}

export const slipText = (row: ReportItem, house: House): string =>
  row.slip === null
    ? ''
    : `likely a count slip: the stretch before was ${missingIn(row, row.slip.before, row.slip.beforeUncertainty, house)}, both together ${missingIn(row, row.slip.together, row.slip.uncertainty, house)}`;

/** "1 × 700 ml Straight rye, breakage, Tom, 22:10". */
export function lossText({ shift }: Report, loss: ReportLoss, house: House, people: boolean): string {
  const whole = loss.pieces === null ? loss.containers : null;
  const amount = whole ?? amountIn(loss, loss.amount, house);
  const who = people ? (loss.by ?? '') : '';
  // Over several nights the hour alone says little.
  const day = shift.to === undefined ? '' : `${dateText(wallTime(loss.at, house.zone).date)} `;
  const parts = [loss.why, who, `${day}${clockText(loss.at, house.zone)}`].filter((part) => part !== '');
  return `${amount} ${loss.name}, ${parts.join(', ')}`;
}

/** A correction made after the seal, with both figures. */
export function correctionText(row: ReportItem, house: House): string {
  if (row.corrected === null || row.missing === null) return '';
  const said = (missing: number): string => missingIn(row, missing, row.uncertainty ?? 0, house);
  const what = row.corrected.corrections.map(
    ({ what: figure, amount, why, by, at }) =>
      `${figure} ${amount > 0 ? '+' : '−'}${amountIn(row, Math.abs(amount), house)}, ${why}${by === null ? '' : ` (${by})`}, ${wallTime(at, house.zone).date} ${clockText(at, house.zone)}`,
  );
  return `corrected after the seal: ${said(row.corrected.missing)}, ${row.corrected.verdict.replaceAll('-', ' ')}; as sealed ${said(row.missing)}. ${what.join('; ')}`;
}

/** "2026-11-21 14:05 Ines, Dry gin: two bottles lent out". */
export function noteText({ text, by, at, name }: Report['notes'][number], { zone }: House): string {
  const who = by === null ? '' : ` ${by}`;
  return `${wallTime(at, zone).date} ${clockText(at, zone)}${who}${name === null ? '' : `, ${name}`}: ${text}`;
}

/** What is missing of a row, or that it was not counted. */
export const rowMissing = (row: ReportItem, house: House): string =>
  row.missing === null || row.uncertainty === null
    ? 'not counted'
    : missingIn(row, row.missing, row.uncertainty, house);

export const verdictText = (row: ReportItem): string =>
  row.improbable ? 'improbable' : row.verdict.replaceAll('-', ' ');

/** What came after the seal, a line for all of it and one for each figure that would differ: nothing where nothing came. */
export function cameAfterLines({ cameAfter }: Pick<Report, 'cameAfter'>, house: House): string[] {
  if (cameAfter === undefined) return [];
  return [
    `came after the seal: ${cameAfterText(cameAfter, house)}, from ${cameAfter.stations.join(', ')}; the figures above stay as they were sealed`,
    ...cameAfter.items.map((row) => {
      const said = (missing: number, uncertainty: number): string =>
        missingIn(row, missing, uncertainty, house);
      // A count that came after cuts the night in two: its last part alone would say little.
      const before = row.earlierThen.map(
        ({ from, to, missing, uncertainty }) =>
          `, and ${said(missing, uncertainty)} from ${clockText(from, house.zone)} to ${clockText(to, house.zone)}`,
      );
      return `${row.name}: ${said(row.missing, row.uncertainty)} as sealed, ${said(row.missingThen, row.uncertaintyThen)} with what came after${before.join('')}`;
    }),
  ];
}

/** "3 drinks, 12.40, 1 taken back". */
function cameAfterText(
  { drinks, soldMinor, takenBack, counts, others, sealedAgain }: CameAfter,
  house: House,
): string {
  const some = (many: number, one: string, more: string): string =>
    many === 0 ? '' : `${many} ${many === 1 ? one : more}`;
  const parts = [
    some(drinks, 'drink', 'drinks'),
    soldMinor === 0 ? '' : formatMoney(soldMinor, house.currency),
    some(takenBack, 'taken back', 'taken back'),
    some(counts, 'count', 'counts'),
    some(others, 'other entry', 'other entries'),
    ...sealedAgain.map(
      ({ station, at }) => `sealed again apart by ${station} at ${clockText(at, house.zone)}`,
    ),
  ].filter((part) => part !== '');
  return parts.length === 0 ? 'the opening' : parts.join(', ');
}
