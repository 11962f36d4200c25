// A spreadsheet that is taken in: its columns with what each is here, then what it would write.
import type { Books } from '../../domain/ledger/books.ts';
import { type Matched, packLine } from '../../domain/sheet/match.ts';
import type { Plan } from '../../domain/sheet/plan.ts';
import type { Layout } from '../../domain/sheet/sheet.ts';
import { formatMoney } from '../../domain/value/money.ts';
import { blank, cut, fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import { blockLines, listLines, longestOf, named } from '../parts/list.ts';
import type { Size } from '../room.ts';

/** What a column is here: sure, asked about, or left out. */
export function oursOfColumn(
  { columns, asked }: Matched,
  at: number,
): { readonly ours: string; readonly isSure: boolean } | null {
  const sure = [...columns].find(([, index]) => index === at)?.[0];
  if (sure !== undefined) return { ours: sure, isSure: true };
  const guess = asked.find((one) => one.at === at)?.ours;
  return guess === undefined ? null : { ours: guess, isSure: false };
}

const oursText = (matched: Matched, at: number): string => {
  const found = oursOfColumn(matched, at);
  if (found === null) return 'left out';
  return found.isSure ? `✓ ${found.ours}` : `? ${found.ours}`;
};

export function columnLines(
  name: string,
  layout: Layout,
  matched: Matched,
  cursor: number,
  { columns, rows }: Size,
): Line[] {
  const { headings, body } = layout;
  const heads = headings.map((heading, at) => (heading === '' ? `column ${at + 1}` : heading));
  const width = Math.min(26, longestOf(heads) + 2);
  const samples = (at: number): string =>
    body
      .slice(0, 12)
      .map(({ cells }) => cells[at] ?? '')
      .filter((cell) => cell !== '')
      .slice(0, 3)
      .join(' · ');
  const packs =
    matched.asked.some(({ ours }) => ours === 'cost') && packLine(layout, matched.columns) !== null;
  const foot = footLines(
    [
      ...(packs ? ['Some come by the case: Space turns cost, of one, to case_cost, of a case.'] : []),
      'Space says what the marked one is, Backspace leaves it out.',
      'Enter shows what it would write; what has a ? is taken so. Esc goes back.',
    ],
    columns,
  );
  const lacks = matched.missing.length === 0 ? '' : ` Say which one is the ${matched.missing.join(', ')}.`;
  const head = wrap(`${name}: which of its columns is which?${lacks}`, columns).map((text) =>
    line(piece(text, 'strong')),
  );
  const list = listLines(
    heads,
    cursor,
    Math.max(3, rows - head.length - foot.length - 2),
    (heading, on, at) => [
      ...named(on, heading, width + 2),
      piece(
        fitText(` ${oursText(matched, at)}`, 18),
        oursOfColumn(matched, at)?.isSure === false ? 'warn' : 'plain',
      ),
      piece(cut(samples(at), Math.max(0, columns - width - 21))),
    ],
  );
  return [...head, blank, ...list, blank, ...foot];
}

const footLines = (texts: readonly string[], columns: number): Line[] =>
  texts.flatMap((text) => wrap(text, columns)).map((text) => line(text));

/** What it would write, as rows that scroll: what is wrong first, then what changes, what was guessed, what is new. */
export function planRows(
  { problems, changed, doubts, fresh, suppliers }: Plan,
  books: Books,
): readonly { readonly text: string; readonly isWrong: boolean }[] {
  const plain = (text: string) => ({ text, isWrong: false });
  return [
    ...problems.map(({ line: at, message }) => ({ text: `line ${at ?? 1}: ${message}`, isWrong: true })),
    ...changed.map(({ says }) => plain(says)),
    ...doubts.map(({ line: at, text }) => plain(`line ${at}: ${text}`)),
    ...suppliers.map(({ name }) => plain(`new supplier: ${name}`)),
    ...fresh.map((item) =>
      plain(
        `new: ${item.name}, ${item.kind}, ${item.sizeText}${item.costMinor === null ? '' : `, ${formatMoney(item.costMinor, books.house.currency)}`}`,
      ),
    ),
  ];
}

export function planLines(
  name: string,
  plan: Plan,
  books: Books,
  cursor: number,
  { columns, rows }: Size,
): Line[] {
  const { fresh, changed, same, problems } = plan;
  const isWrong = problems.length > 0;
  const head = isWrong
    ? `${name}: ${problems.length} ${problems.length === 1 ? 'line' : 'lines'} can't be read; nothing goes in before they can`
    : `${name}: ${fresh.length} new, ${changed.length} changed, ${same} the same`;
  const foot = footLines(
    [
      isWrong
        ? 'Mend them in the file and import it again. Esc goes back to its columns.'
        : 'Enter writes all of it; ^U takes it back as one. Esc goes back to its columns.',
    ],
    columns,
  );
  const title = wrap(head, columns).map((text) => line(piece(text, isWrong ? 'warn' : 'strong')));
  // The marked row is read whole: a doubt says what to do at its end.
  const blocks = planRows(plan, books).map((row, at) =>
    (at === cursor ? wrap(`› ${row.text}`, columns) : [cut(`  ${row.text}`, columns)]).map((text) =>
      line(piece(text, row.isWrong ? 'warn' : at === cursor ? 'chosen' : 'plain')),
    ),
  );
  return [
    ...title,
    blank,
    ...blockLines(blocks, cursor, Math.max(3, rows - title.length - foot.length - 2)),
    blank,
    ...foot,
  ];
}
