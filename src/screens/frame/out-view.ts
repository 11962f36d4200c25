// What is out: what somebody said is, then what the books say; and under it what goes with the marked one.

import type { OutMark } from '../../domain/catalogue/out-mark.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { markedOut, outText, stoppedBy } from '../../domain/service/out-by-hand.ts';
import { type OutItem, outList } from '../../domain/service/out-list.ts';
import { AMOUNT, amountText, shortName } from '../format.ts';
import { blank, fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import { listLines, longestOf, named } from '../parts/list.ts';
import type { Size } from '../room.ts';

export type OutRow = { readonly mark: OutMark } | { readonly out: OutItem };

export const outRows = (books: Books, now: string): readonly OutRow[] => [
  ...markedOut(books, now).map((mark) => ({ mark })),
  ...outList(books).map((out) => ({ out })),
];

const specsOf = (row: OutRow, books: Books): readonly string[] =>
  ('out' in row ? row.out.specs : stoppedBy(row.mark, books)).map(({ name }) => name);

const nameOf = (row: OutRow, books: Books): string =>
  'out' in row ? shortName(row.out.item) : outText(row.mark, books);

const stateOf = ({ isUnknown, isOut }: OutItem): string =>
  isUnknown ? 'never counted' : isOut ? 'out' : 'too little';

const HEAD = 'out or too low';

export function outLines(books: Books, now: string, cursor: number, { columns, rows }: Size): Line[] {
  const list = outRows(books, now);
  if (list.length === 0)
    return [line(piece('Nothing is out', 'strong')), blank, line('Every spec can be poured.')];
  const nameWidth = Math.min(
    longestOf([HEAD, ...list.map((row) => nameOf(row, books))]),
    columns - 28 - AMOUNT,
  );
  const told = list[Math.min(cursor, list.length - 1)];
  const with_ = told === undefined ? [] : specsOf(told, books);
  const specs =
    with_.length === 0
      ? [line('no spec goes with it')]
      : wrap(`goes with it: ${with_.join(', ')}`, columns)
          .slice(0, 5)
          .map((text) => line(text));
  const head = `  ${fitText(HEAD, nameWidth)} ${fitText('left', AMOUNT, 'right')}  ${fitText('', 14)} specs`;
  return [
    line(piece(fitText(head, columns), 'under')),
    ...listLines(list, cursor, Math.max(3, rows - 2 - specs.length), (row, on) => {
      const count = String(specsOf(row, books).length).padStart(5);
      const said =
        'out' in row
          ? ` ${fitText(amountText(row.out.left, row.out.item, books), AMOUNT, 'right')}  ${fitText(stateOf(row.out), 14)} ${count}`
          : ` ${fitText('', AMOUNT)}  ${fitText('by hand', 14)} ${count}`;
      return [...named(on, nameOf(row, books), nameWidth + 2), piece(said, 'mark' in row ? 'bad' : 'plain')];
    }),
    blank,
    ...specs,
  ];
}
