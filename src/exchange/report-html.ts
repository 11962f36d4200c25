// The report as one self-contained page: no script, no request, escaped throughout, fit for A4 and for a phone.
import type { Books } from '../domain/books.ts';
import { chartRows } from '../domain/chart-text.ts';
import { clockText, dateText } from '../domain/clock-date.ts';
import { displayAmount } from '../domain/display.ts';
import type { DriftReport } from '../domain/drift-report.ts';
import { driftSentence, otherCauses, personSentence, specSentence } from '../domain/drift-words.ts';
import type { House } from '../domain/house.ts';
import { formatMoney } from '../domain/money.ts';
import { byWeight, type Report, type ReportItem } from '../domain/report.ts';
import { clean } from '../domain/text.ts';
import { rowMissing, verdictText } from './report-text.ts';

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
/** The one way from text to HTML. */
export const escapeHtml = (text: string): string =>
  clean(text).replace(/[&<>"']/g, (char) => entities[char] ?? char);

const style = `
body{font:15px/1.45 system-ui,sans-serif;color:#111;background:#fff;max-width:78rem;margin:1.5rem auto;padding:0 1rem}
h1{font-size:1.4rem;margin:0 0 .2rem}p{margin:.3rem 0}
.wide{overflow-x:auto}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums;margin:1rem 0}
th,td{padding:.3rem .5rem;text-align:right;border-bottom:1px solid #ccc;white-space:nowrap}
th:first-child,td:first-child,td.word,th.word{text-align:left}
tr.real td{font-weight:600}
h2{font-size:1.1rem}pre{font:12px/1.2 ui-monospace,monospace;overflow-x:auto}
footer{color:#333;font-size:.85rem;margin-top:1.5rem}
@media print{@page{size:A4;margin:14mm}body{margin:0;max-width:none;font-size:10px}tr{break-inside:avoid}.wide{overflow:visible}}
`;

export function reportHtml(report: Report, books: Books, drift: DriftReport | null = null): string {
  const { shift, house, totals } = report;
  const { zone } = books.house;
  const title = `${house.name}, ${dateText(shift.date)}`;
  const money = (minor: number): string => `${formatMoney(minor, house.currency)} ${house.currency}`;
  const until = shift.closedAt === null ? 'still open' : `sealed ${clockText(shift.closedAt, zone)}`;
  const facts = [
    `${totals.counted} of ${totals.counted + totals.notCounted} items counted; missing ${money(totals.missingAloneMinor)} and extra ${money(totals.extraAloneMinor)} at cost`,
    `poured ${money(totals.pouredCostMinor)} at cost, sold ${money(totals.soldMinor)}, pour cost ${totals.pourCostPercent === null ? 'without sales' : `${totals.pourCostPercent.toFixed(2)} %`}`,
  ];
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}</title><style>${style}</style></head><body>
<h1>${escapeHtml(title)}</h1>
<p>Closing report of ${escapeHtml(shift.date)}, opened ${clockText(shift.openedAt, zone)}, ${until}.</p>
${facts.map((fact) => `<p>${escapeHtml(fact)}</p>`).join('\n')}
<div class="wide"><table><thead><tr><th scope="col">item</th>${['opening', 'in', 'out', 'logged', 'expected', 'counted', 'missing or extra'].map((name) => `<th scope="col">${name}</th>`).join('')}<th scope="col" class="word">verdict</th><th scope="col">value</th></tr></thead>
<tbody>
${[...report.items]
  .sort(byWeight(books.house))
  .map((row) => itemRow(row, books.house))
  .join('\n')}
</tbody></table></div>
${drinksTable(report)}
${drift === null ? '' : driftSection(drift, books)}
<footer>± is k = 2, about 95 in 100. Missing may be an unlogged drink, a spill, a move or a delivery that was not entered, a spec, a spout, a count. These are figures about bottles, not about people.</footer>
</body></html>
`;
}

function itemRow(row: ReportItem, house: House): string {
  /** An empty cell says more than a zero where most rows have none. */
  const cell = (value: number | null): string =>
    `<td>${value === null ? '' : escapeHtml(displayAmount(value * 1000, row.unit, house))}</td>`;
  const values = [
    row.opening,
    row.received + row.movedIn || null,
    row.movedOut || null,
    row.poured + row.lost,
    row.expected,
    row.counted,
  ];
  const money = row.missingCostMinor === null ? '' : formatMoney(row.missingCostMinor, house.currency);
  return `<tr${row.verdict === 'real' ? ' class="real"' : ''}><td>${escapeHtml(row.name)}</td>${values.map(cell).join('')}<td>${escapeHtml(rowMissing(row, house))}</td><td class="word">${verdictText(row)}</td><td>${money}</td></tr>`;
}

function drinksTable(report: Report): string {
  if (report.drinks.length === 0) return '<p>No drinks were poured.</p>';
  const rows = report.drinks.map((drink) => {
    const as = Object.entries(drink.as).map(([name, count]) => `${count} ${name}`);
    return `<tr><td>${escapeHtml(drink.name)}</td><td>${drink.count}</td><td class="word">${escapeHtml(as.join(', '))}</td></tr>`;
  });
  return `<div class="wide"><table><thead><tr><th scope="col">drink</th><th scope="col">poured</th><th scope="col" class="word">as</th></tr></thead>
<tbody>
${rows.join('\n')}
</tbody></table></div>`;
}

/** What drifts over the last season, each with its chart as text: readable without colour, on paper and to a reader aloud. */
function driftSection(drift: DriftReport, books: Books): string {
  const drifting = drift.items.filter(({ chart }) => chart.state === 'drifting');
  const sentences = [
    ...drift.specs.map((spec) => specSentence(spec, books)),
    ...drift.people.filter(({ state }) => state === 'differs').map((person) => personSentence(person, books)),
  ];
  const charts = drifting.map((one) => {
    const rows = chartRows(one.stretches, one.chart, { columns: 92, rows: 13 });
    return `<p>${escapeHtml(driftSentence(one, books))}</p><pre>${rows.map(escapeHtml).join('\n')}</pre>`;
  });
  const none =
    drifting.length + sentences.length === 0 ? '<p>Nothing drifts.</p>' : `<p>${escapeHtml(otherCauses)}</p>`;
  return `<h2>Over the last ${drift.shifts} shifts</h2>${charts.join('')}${sentences.map((text) => `<p>${escapeHtml(text)}</p>`).join('')}${none}`;
}
