// The report as one self-contained page: no script, no request, escaped throughout, fit for A4 and for a phone.

import type { House } from '../../domain/catalogue/house.ts';
import { chartRows } from '../../domain/drift/chart-text.ts';
import type { DriftReport } from '../../domain/drift/drift-report.ts';
import {
  chartUnit,
  driftSentence,
  otherCauses,
  personSentence,
  specSentence,
} from '../../domain/drift/drift-words.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { Courses } from '../../domain/report/course/courses.ts';
import { type Lead, leadOf, nextSteps, restLines } from '../../domain/report/lead.ts';
import { byWeight, matters } from '../../domain/report/order.ts';
import { type Report, type ReportItem, withoutPeople } from '../../domain/report/report.ts';
import {
  amountIn,
  cameAfterLines,
  correctionText,
  factLines,
  looksText,
  lossText,
  noteText,
  reasonText,
  rowMissing,
  slipText,
  verdictText,
  wentText,
} from '../../domain/report/words.ts';
import { clockText, dateText } from '../../domain/value/clock-date.ts';
import { currencyExponent, formatMoney } from '../../domain/value/money.ts';
import { countChart, courseChart, errorBarChart } from './charts.ts';
import { type Cell, escapeHtml, htmlTable } from './html.ts';

const style = `
body{font:15px/1.45 system-ui,sans-serif;color:#111;background:#fff;max-width:72rem;margin:1.5rem auto;padding:0 1rem}
h1{font-size:1.4em;margin:0 0 .2rem}h2{font-size:1.1em;margin:1.4rem 0 .3rem;break-after:avoid}p{margin:.3rem 0}
.wide{overflow-x:auto}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums;margin:.6rem 0}
th,td{padding:.25rem .45rem;text-align:right;border-bottom:1px solid #ccc;vertical-align:top}
th:first-child,td:first-child,td.word,th.word{text-align:left;overflow-wrap:anywhere}
tr.real td{font-weight:600}
figure{margin:.6rem 0;overflow-x:auto}svg{display:block;width:100%;height:auto;max-width:30rem}
summary{cursor:pointer;font-weight:600;margin:.6rem 0}ul{margin:.3rem 0;padding-left:1.2rem}
.two{display:grid;grid-template-columns:repeat(auto-fit,minmax(16rem,1fr));gap:.6rem}
pre{font:12px/1.2 ui-monospace,monospace;overflow-x:auto}
footer{color:#333;font-size:.85em;margin-top:1.5rem}
@media screen and (max-width:64rem){th.detail,td.detail{display:none}}
@media screen and (max-width:40rem){body{margin:1rem auto;padding:0 .8rem}th,td{padding:.25rem .3rem;font-size:.87em}pre{font-size:10px}}
@media print{@page{size:A4;margin:14mm}body{margin:0;max-width:none;font-size:9.5px}tr,figure,pre{break-inside:avoid}.wide{overflow:visible}th,td{padding:.15rem .3rem}}
`;

export type PageParts = {
  readonly report: Report;
  readonly books: Books;
  readonly drift: DriftReport | null;
  readonly courses: Courses | null;
  /** Who poured, beside the figures: only when it was asked for. */
  readonly people: boolean;
};

export function reportHtml({ report: whole, books, drift, courses, people }: PageParts): string {
  const report = people ? whole : withoutPeople(whole);
  const { shift, house } = report;
  const lead = leadOf(report, books.house);
  const title = `${house.name}, ${shift.to === undefined ? dateText(shift.date) : `${shift.date} to ${shift.to}`}`;
  return `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}</title><style>${style}</style></head><body>
<h1>${escapeHtml(title)}</h1>
<p>${escapeHtml(headLine(report, books.house))}</p>
${wentSection(report, books.house, people)}
${realSection(report, lead, books.house, people)}
${stepsSection(report, lead, books.house)}
${restSection(report, lead, books.house, people)}
<h2>What it comes to</h2>
${paragraphs(factLines(report, books.house))}
${courses === null ? '' : coursesSection(courses)}
${hoursSection(report)}
${drinksTable(report)}
${tillTable(report)}
${cameAfterSection(report, books.house)}
${notesSection(report, books.house)}
${drift === null ? '' : driftSection(drift, books, people)}
<footer>± is k = 2, about 95 in 100. Missing may be an unlogged drink, a spill, a move or a delivery that was not entered, a spec, a spout, a count. These are figures about bottles, not about people.</footer>
</body></html>
`;
}

function headLine({ shift }: Report, { zone }: House): string {
  const until =
    shift.closedAt === null
      ? 'still open'
      : `sealed ${clockText(shift.closedAt, zone)}${shift.sealedBy === null ? '' : ` by ${shift.sealedBy}`}`;
  return shift.to === undefined
    ? `Closing report of ${shift.date}, opened ${clockText(shift.openedAt, zone)}, ${until}.`
    : `Report over ${shift.shifts} shifts, the last one ${until}.`;
}

const paragraphs = (texts: readonly string[]): string =>
  texts.map((text) => `<p>${escapeHtml(text)}</p>`).join('\n');

const MOST_BARS = 16;

/** In money, which alone is the same for a gin and a lime; the dearest first. */
function moneyChart({ items, house }: Report): string {
  const bars = items
    .filter((row) => row.missingCostMinor !== null && !row.improbable && row.missing !== 0)
    .sort((a, b) => Math.abs(b.missingCostMinor ?? 0) - Math.abs(a.missingCostMinor ?? 0))
    .slice(0, MOST_BARS)
    .map((row) => ({
      name: row.name,
      value: inMoney(row.missingCostMinor ?? 0, house.currency),
      uncertainty: inMoney(row.missingCostUncertaintyMinor ?? 0, house.currency),
    }));
  return bars.length === 0
    ? ''
    : `<figure>${errorBarChart(bars, house.currency, `Missing or extra with its uncertainty, in ${house.currency}, item by item`)}</figure>`;
}

const inMoney = (minor: number, currency: string): number => minor / 10 ** currencyExponent(currency);

const word = (text: string): Cell => ({ text, word: true });
const plain = (text: string): Cell => ({ text });

function itemsTable(report: Report, house: House): string {
  const text = (row: ReportItem, value: number | null): string =>
    value === null ? '' : amountIn(row, value, house);
  const amount = (row: ReportItem, value: number | null): Cell => ({ text: text(row, value), detail: true });
  const rows = [...report.items].sort(byWeight(house)).map((row) => ({
    strong: row.verdict === 'real' && matters(row, house),
    cells: [
      plain(row.name),
      amount(row, row.opening),
      // An empty cell says more than a zero where most rows have none.
      amount(row, row.received + row.movedIn + row.made || null),
      amount(row, row.movedOut + row.prepped || null),
      amount(row, row.poured + row.lost),
      amount(row, row.expected),
      amount(row, row.counted),
      plain(rowMissing(row, house)),
      word(verdictText(row)),
      plain(row.missingCostMinor === null ? '' : formatMoney(row.missingCostMinor, house.currency)),
    ],
  }));
  const details = ['opening', 'in', 'out', 'logged', 'expected', 'counted'].map(
    (name): Cell => ({ text: name, detail: true }),
  );
  const heads = [plain('item'), ...details, plain('missing or extra'), word('verdict'), plain('worth')];
  return htmlTable(heads, rows);
}

/** What was entered as lost, loss by loss, the dearest first. */
function wentSection(report: Report, house: House, people: boolean): string {
  if (report.losses.length === 0) return `<h2>What went</h2>\n<p>Nothing was entered as lost.</p>`;
  const rows = report.losses.map((loss) => ({
    strong: false,
    cells: [
      word(lossText(report, loss, house, people)),
      plain(loss.costMinor === null ? '' : formatMoney(loss.costMinor, house.currency)),
    ],
  }));
  return `<h2>What went</h2>\n<p>${escapeHtml(wentText(report))}</p>\n${htmlTable([plain('loss'), plain('worth')], rows)}`;
}

/** What is missing or extra, sure and worth it, each with what stands beside it. */
function realSection(report: Report, lead: Lead, house: House, people: boolean): string {
  const put = [...lead.improbable, ...lead.real];
  const rows = put.map((row) => ({ strong: true, cells: frontCells(row, house) }));
  const heads = [plain('item'), plain('missing or extra'), plain('worth'), word('how sure')];
  return [
    '<h2>Missing or extra, and real</h2>',
    `<p>${escapeHtml(looksText(report))}.</p>`,
    put.length === 0 ? '<p>Nothing that is sure and worth it.</p>' : htmlTable(heads, rows),
    ...put.map((row) => besideText(row, house, people)),
    ...lead.within.filter(({ corrected }) => corrected !== null).map((row) => besideText(row, house, people)),
    moneyChart(report),
  ].join('\n');
}

const frontCells = (row: ReportItem, house: House): Cell[] => [
  plain(row.name),
  plain(rowMissing(row, house)),
  plain(row.missingCostMinor === null ? '' : formatMoney(row.missingCostMinor, house.currency)),
  word(`${verdictText(row)}${row.lookedTwice ? ', looked at twice' : ''}`),
];

/** Who and what drew on it, what the till says, a likely slip, a later correction. */
function besideText(row: ReportItem, house: House, people: boolean): string {
  const parts = [reasonText(row, house, people), slipText(row, house), correctionText(row, house)];
  return `<p><strong>${escapeHtml(row.name)}</strong> ${parts
    .filter((part) => part !== '')
    .map(escapeHtml)
    .join('. ')}</p>`;
}

function stepsSection(report: Report, lead: Lead, house: House): string {
  const steps = nextSteps(report, lead, house);
  return steps.length === 0
    ? ''
    : `<h2>What to do</h2>\n<ul>${steps.map((step) => `<li>${escapeHtml(step)}</li>`).join('')}</ul>`;
}

/** The rest as a line each, and all of it behind a fold. */
const restSection = (report: Report, lead: Lead, house: House, people: boolean): string =>
  `<h2>The rest</h2>\n${paragraphs(restLines(lead))}\n<details><summary>All ${report.items.length} items</summary>\n${itemsTable(report, house)}\n${lead.perhaps.map((row) => besideText(row, house, people)).join('\n')}\n</details>`;

function coursesSection({ axis, courses }: Courses): string {
  const figures = courses.map(({ item, points }) => {
    const label = `Stock of ${escapeHtml(item.name)} through the time, in containers of ${escapeHtml(item.sizeText)}; dots are counts`;
    return `<figure>${courseChart({ name: item.name, points }, axis, item.sizeText, label)}</figure>`;
  });
  return figures.length === 0
    ? ''
    : `<h2>Stock through the time</h2><p>In containers; a dot is a count.</p>\n<div class="two">\n${figures.join('\n')}\n</div>`;
}

function hoursSection({ hours }: Report): string {
  if (hours.length === 0) return '';
  const counts = hours.map(({ hour, count }) => ({ name: hour, count }));
  return `<h2>Pours by hour</h2>\n<figure>${countChart(counts, 'Pours by the hour of the clock')}</figure>`;
}

function drinksTable(report: Report): string {
  if (report.drinks.length === 0) return '<p>No drinks were poured.</p>';
  const rows = report.drinks.map((drink) => {
    const as = Object.entries(drink.as).map(([name, count]) => `${count} ${name}`);
    return { cells: [plain(drink.name), plain(String(drink.count)), word(as.join(', '))] };
  });
  return `<h2>Drinks</h2>\n${htmlTable([plain('drink'), plain('poured'), word('as')], rows)}`;
}

function tillTable({ till }: Report): string {
  if (till === null) return '';
  const text = (value: number | null): Cell => plain(value === null ? '' : String(value));
  const said = {
    spec: '',
    straight: 'straight',
    unknown: 'nobody said which drink',
    'not-ours': 'nothing we pour',
  };
  const rows = till.map((row) => ({
    cells: [plain(row.drink), text(row.sold), text(row.logged), text(row.difference), word(said[row.match])],
  }));
  const heads = [...['drink', 'sold', 'logged', 'difference'].map(plain), word('match')];
  return `<h2>Till against tally</h2>\n${htmlTable(heads, rows)}`;
}

function cameAfterSection(report: Report, house: House): string {
  const lines = cameAfterLines(report, house).map((text) => `<p>${escapeHtml(text)}</p>`);
  return lines.length === 0 ? '' : `<h2>Came after the seal</h2>\n${lines.join('\n')}`;
}

function notesSection(report: Report, house: House): string {
  if (report.notes.length === 0) return '';
  const lines = report.notes.map((note) => `<p>${escapeHtml(noteText(note, house))}</p>`);
  return `<h2>Notes</h2>\n${lines.join('\n')}`;
}

/** What drifts over the last season, each with its chart as text: readable without colour, on paper and to a reader aloud. */
function driftSection(drift: DriftReport, books: Books, people: boolean): string {
  const drifting = drift.items.filter(({ chart }) => chart.state === 'drifting');
  const sentences = [
    ...drift.specs.map((spec) => specSentence(spec, books)),
    ...(people ? drift.people.filter(({ state }) => state === 'differs') : []).map((person) =>
      personSentence(person, books),
    ),
  ];
  const charts = drifting.map((one) => {
    const rows = chartRows(
      { stretches: one.stretches, chart: one.chart, unit: chartUnit(one.item, books.house), isFine: false },
      { columns: 46, rows: 18 },
    );
    return `<p>${escapeHtml(driftSentence(one, books))}</p><pre>${rows.map((row) => escapeHtml(row).trimEnd()).join('\n')}</pre>`;
  });
  const none =
    drifting.length + sentences.length === 0 ? '<p>Nothing drifts.</p>' : `<p>${escapeHtml(otherCauses)}</p>`;
  return `<h2>Over the last ${drift.shifts} shifts</h2>${charts.join('')}${sentences.map((text) => `<p>${escapeHtml(text)}</p>`).join('')}${none}`;
}
