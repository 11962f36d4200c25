// A spreadsheet taken in: its layout found, its columns matched, its rows read; or what has to be said first.
import type { Catalogue } from '../catalogue/catalogue.ts';
import { done, type Problem, type Result, refuse, refuseAll } from '../value/problem.ts';
import { givenColumns, layoutOf, type Matched, matchColumns, packLine } from './match.ts';
import { itemsOfSheet, type SheetItems } from './rows.ts';
import { type Columns, headingKey, type Layout, layoutProblem, type Sheet } from './sheet.ts';

export type Sheets = ReadonlyMap<string, Columns>;

export type Taken = SheetItems & {
  readonly layout: Layout;
  readonly matched: Matched;
  /** What is kept for these headings from now on; null where nobody had to say anything. */
  readonly kept: Columns | null;
};

/** `said`: what is which column, as "name=Product,size=Pack"; null where nobody said. */
export function takeSheet(
  sheet: Sheet,
  catalogue: Catalogue & { readonly sheets: Sheets },
  said: string | null,
): Result<Taken> {
  const layout = layoutOf(sheet);
  if (layout === null) return refuse('empty-sheet', layoutProblem);
  const given = said === null ? null : givenColumns(said, layout);
  if (typeof given === 'string') return refuse('bad-columns', given, 64);
  const kept = catalogue.sheets.get(headingKey(layout)) ?? null;
  const matched = matchColumns(layout, catalogue, kept, given);
  const asks = askProblems(layout, matched);
  if (asks.length > 0) return refuseAll(asks);
  return done({
    layout,
    matched,
    ...itemsOfSheet(layout, matched.columns, catalogue),
    kept: given === null ? null : keptColumns(matched.columns, given),
  });
}

/** Everything that was settled, what is left out among it. */
const keptColumns = (columns: Columns, given: Columns): Columns =>
  new Map([...columns, ...[...given].filter(([, at]) => at < 0)]);

function askProblems(layout: Layout, { asked, missing, columns }: Matched): Problem[] {
  const { headings, line } = layout;
  if (asked.length === 0 && missing.length === 0) return [];
  const sure = [...columns].map(([ours, at]) => `${ours} is "${headings[at]}"`);
  const pack = packLine(layout, columns);
  const doubts = asked.map(({ ours, theirs }) =>
    ours === 'cost' && pack !== null
      ? `"${theirs}" may be cost, of one, or case_cost, of a case (line ${pack} is one)`
      : `"${theirs}" may be ${ours}`,
  );
  const lacks = missing.map((ours) => `no column is headed like a ${ours}`);
  const example = [...asked, ...missing.map((ours) => ({ ours, theirs: 'Heading' }))]
    .map(({ ours, theirs }) => `${ours}=${theirs}`)
    .join(',');
  return [
    {
      code: 'which-column',
      exit: 65,
      line,
      message: `${[...doubts, ...lacks].join('; ')}${sure.length > 0 ? ` (${sure.join(', ')})` : ''}. Say it with --columns "${example}"; ${asked[0]?.ours ?? 'name'}= leaves one out.`,
    },
  ];
}
