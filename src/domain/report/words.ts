// The sentences of a report, the same on the screen, on paper and on the page.

import { displayAmount, missingText } from '../catalogue/display.ts';
import type { House } from '../catalogue/house.ts';
import { clockText, wallTime } from '../value/clock-date.ts';
import { formatMoney } from '../value/money.ts';
import type { Report, ReportItem, ReportLoss, Share } from './report.ts';

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

/** The same in liquid: "180 ml ± 360 ml". */
export function totalVolumeText({ totals }: Report, house: House): string {
  const { missingMl, missingMlUncertainty } = totals;
  return missingText(missingMl * 1000, missingMlUncertainty * 1000, 'ml', house);
}

/** Each line stands for itself; the first is the one to remember. */
export function factLines(report: Report, house: House): string[] {
  const { totals, purposes } = report;
  const money = moneyIn(house);
  const others = purposes.filter(({ as }) => as !== 'sale');
  return [
    `${totals.counted} of ${totals.counted + totals.notCounted} items counted; all together ${totalMissingText(report, house)}, ${totalVolumeText(report, house)} of liquid`,
    `missing alone ${money(totals.missingAloneMinor)}, extra alone ${money(totals.extraAloneMinor)} at cost`,
    `poured ${money(totals.pouredCostMinor)} at cost, sold ${money(totals.soldMinor)}, pour cost ${percent(totals.pourCostPercent)}`,
    `standard cost of what was sold ${money(totals.standardCostMinor)}, ${percent(totals.standardPercent)}; actual cost of all that left ${money(totals.actualCostMinor)}, ${percent(totals.actualPercent)}`,
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
  const amount = (value: number): string => displayAmount(value * 1000, row.unit, house);
  const list = (shares: readonly Share[], unnamed: string): string =>
    shares
      .slice(0, 5)
      .map(({ name, amount: much }) => `${name === '' ? unnamed : name} ${amount(much)}`)
      .join(', ');
  const parts = [
    row.drawnBy.length === 0 ? 'no drink drew on it' : `in ${list(row.drawnBy, 'straight')}`,
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
    : `likely a count slip: the stretch before was ${missingText(row.slip.before * 1000, row.slip.beforeUncertainty * 1000, row.unit, house)}, both together ${missingText(row.slip.together * 1000, row.slip.uncertainty * 1000, row.unit, house)}`;

/** "1 × 700 ml Straight rye, breakage, Tom, 22:10". */
export function lossText(loss: ReportLoss, house: House, people: boolean): string {
  const amount = loss.containers ?? displayAmount(loss.amount * 1000, loss.unit, house);
  const who = people ? (loss.by ?? '') : '';
  const parts = [loss.why, who, clockText(loss.at, house.zone)].filter((part) => part !== '');
  return `${amount} ${loss.name}, ${parts.join(', ')}`;
}

/** A correction made after the seal, with both figures. */
export function correctionText(row: ReportItem, house: House): string {
  if (row.corrected === null || row.missing === null) return '';
  const u = (row.uncertainty ?? 0) * 1000;
  const said = (missing: number): string => missingText(missing * 1000, u, row.unit, house);
  const what = row.corrected.corrections.map(
    ({ what: figure, amount, why, by, at }) =>
      `${figure} ${amount > 0 ? '+' : '−'}${displayAmount(Math.abs(amount) * 1000, row.unit, house)}, ${why}${by === null ? '' : ` (${by})`}, ${wallTime(at, house.zone).date} ${clockText(at, house.zone)}`,
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
    : missingText(row.missing * 1000, row.uncertainty * 1000, row.unit, house);

export const verdictText = (row: ReportItem): string => row.verdict.replaceAll('-', ' ');
