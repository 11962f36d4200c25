// A spreadsheet of what a house stocks, as somebody else laid it out: rows of text with the lines they stand on.

export type SheetRow = { readonly line: number; readonly cells: readonly string[] };
export type Sheet = {
  readonly rows: readonly SheetRow[];
  /** What is to be looked at of how it was read. */
  readonly notices: readonly string[];
};

/** Which of its columns (from zero) is which of ours. */
export type Columns = ReadonlyMap<string, number>;

/** Where its headings stand, and what is below them. */
export type Layout = {
  readonly headings: readonly string[];
  readonly line: number;
  readonly body: readonly SheetRow[];
};

export const layoutProblem =
  'There is no row with two headings or more in it. Give the columns names, as Product and Size, and import it again.';

/** What a heading row is remembered by. */
export const headingKey = ({ headings }: Pick<Layout, 'headings'>): string =>
  headings
    .map((heading) => heading.trim().toLowerCase().replace(/\s+/g, ' '))
    .join('|')
    .slice(0, 2000);
