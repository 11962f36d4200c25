// The till beside the tally, drink by drink.
import type { TillRow } from '../../domain/report/report.ts';
import { clockText } from '../../domain/value/clock-date.ts';
import { blank, cut, fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import { listLines, named } from '../parts/list.ts';
import type { Scene, Size } from '../room.ts';
import { type CloseState, reportOf, tillOf } from './model.ts';

export function tillPage(scene: Scene, state: CloseState, size: Size): Line[] {
  const rows = tillOf(scene);
  const { zone } = scene.books.house;
  const from = clockText(reportOf(scene).report?.shift.openedAt ?? scene.now, zone);
  const sold = rows.reduce((sum, row) => sum + row.sold, 0);
  if (rows.length === 0)
    return [
      line(piece('Till against tally', 'strong')),
      blank,
      ...wrap(
        `No lines of the till since ${from}. The till's file (time, drink, quantity) is taken in from the command line; the page fills itself.`,
        size.columns,
      ).map((text) => line(text)),
    ];
  const nameWidth = Math.max(14, Math.min(34, size.columns - 50));
  const head = `  ${fitText('drink', nameWidth)} ${fitText('sold', 6, 'right')} ${fitText('logged', 7, 'right')} ${fitText('difference', 11, 'right')}`;
  return [
    line(cut(`Till: ${sold} sold since ${from}. Difference above zero: sold, not logged.`, size.columns)),
    line(piece(fitText(head, size.columns), 'under')),
    ...listLines(rows, state.cursor, size.rows - 2, (row, on) => tillLine(row, on, nameWidth)),
  ];
}

function saidOf({ match, difference }: TillRow): string {
  if (match === 'unknown') return '! which drink? Enter';
  if (match === 'not-ours') return 'nothing of ours';
  if (difference === 0) return '';
  return (difference ?? 0) > 0 ? '! not logged' : '! not in the till';
}

function tillLine(row: TillRow, on: boolean, nameWidth: number): Line {
  const number = (value: number | null, wide: number): string =>
    fitText(value === null ? '' : String(value), wide, 'right');
  const said = saidOf(row);
  return [
    ...named(on, row.drink, nameWidth + 2),
    piece(
      ` ${number(row.sold, 6)} ${number(row.logged, 7)} ${number(row.difference, 11)}  ${said}`,
      said.startsWith('!') ? 'warn' : 'plain',
    ),
  ];
}
