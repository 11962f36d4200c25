// The whole screen as lines: title, room, message, footer; exactly as many as the window has rows.
import type { Books } from '../../domain/ledger/books.ts';
import { clockText } from '../../domain/value/clock-date.ts';
import type { RoomName } from '../address.ts';
import { titleText } from '../format.ts';
import {
  blank,
  cut,
  fitLine,
  fitText,
  type Line,
  line,
  lineWidth,
  piece,
  widthOf,
  wrap,
} from '../parts/line.ts';
import type { Message, Size } from '../room.ts';
import { keyName } from './footer.ts';

export type RoomPage = {
  readonly books: Books;
  readonly now: string;
  readonly size: Size;
  readonly room: RoomName;
  readonly titles: readonly { readonly name: RoomName; readonly title: string }[];
  readonly body: readonly Line[];
  readonly message: Message | null;
  readonly footer: Line;
  /** What is not saved yet, in words; empty when everything is. It stands where nothing can push it away. */
  readonly unsaved: string;
  /** How this station stands apart from the others, in words; empty while in step. */
  readonly apart: string;
};

/** Rows a room has for itself: all but title, the line under it, footer and a message of one line or more. */
export const bodySize = (size: Size, message: Message | null): Size => ({
  columns: size.columns,
  rows: size.rows - 3 - messageLines(message, size.columns).length,
});

export function pageLines(parts: RoomPage): Line[] {
  const { size } = parts;
  const message = messageLines(parts.message, size.columns);
  const body = parts.body.slice(0, bodySize(size, parts.message).rows);
  const rows = [titleLine(parts), blank, ...body];
  while (rows.length < size.rows - 1 - message.length) rows.push(blank);
  return [...rows, ...message, parts.footer].map((content) => fitLine(content, size.columns));
}

function titleLine({ books, now, size, room, titles, unsaved, apart }: RoomPage): Line {
  const clock = clockText(now, books.house.zone);
  const names = titles.map(({ name, title }) =>
    piece(name === room ? `[${title}]` : ` ${title} `, name === room ? 'strong' : 'plain'),
  );
  const wide = size.columns >= 118;
  const shown = wide
    ? names
    : [piece(`[${titles.find(({ name }) => name === room)?.title ?? ''}]`, 'strong')];
  const rest = size.columns - lineWidth(shown) - clock.length - 3;
  const said = apart === '' ? '' : cut(`${apart}  `, rest);
  const left = rest - widthOf(said);
  const title =
    unsaved === ''
      ? [piece(said, 'warn'), piece(fitText(titleText(books, left), left))]
      : [piece(fitText(unsaved, rest), 'bad')];
  return line(...shown, '  ', ...title, ' ', clock);
}

const signs = { done: '✓ ', refused: '✗ ', plain: '' } as const;

/** What to do about it stands last, so a message is cut only where a window has no room for anything else. */
const MESSAGE_LINES = 4;

function messageLines(message: Message | null, width: number): Line[] {
  if (message === null) return [blank];
  const style = message.tone === 'refused' ? 'warn' : message.tone === 'done' ? 'good' : 'plain';
  const rows = wrap(`${signs[message.tone]}${message.text}`, width);
  const most = MESSAGE_LINES - 1;
  const shown =
    rows.length <= MESSAGE_LINES ? rows : [...rows.slice(0, most), cut(rows.slice(most).join(' '), width)];
  return shown.map((text) => line(piece(text, style)));
}

export function tooSmallLines(size: Size, smallest: Size, unsaved: string): Line[] {
  const rows = [
    // In one row there is room for one thing.
    ...(unsaved === '' ? [] : [`${unsaved}.`]),
    `The rooms need ${smallest.columns}×${smallest.rows}, this is ${size.columns}×${size.rows}.`,
    ...(unsaved === '' ? ['Everything recorded is saved.'] : []),
    'Make the window larger, or press ^C twice to leave.',
  ];
  return Array.from({ length: size.rows }, (_, index) => fitLine(line(rows[index] ?? ''), size.columns));
}

export function welcomeLines(): Line[] {
  return [
    line(piece('Nothing is stocked and nothing is poured yet.', 'strong')),
    blank,
    line(
      `${keyName('tab')} or ${keyName('shift-tab')} goes to Begin, where the house is made, question by question.`,
    ),
    line(`Press ${keyName('ctrl-c')} twice to leave.`),
  ];
}
