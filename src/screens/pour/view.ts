// The Pour room's picture: what is typed, the likeliest drinks, the card beside them, what runs low, what was poured.

import { retiredName } from '../../domain/catalogue/catalogue.ts';
import { bareName } from '../../domain/catalogue/item.ts';
import type { Spec } from '../../domain/catalogue/spec.ts';
import { drinksLeft } from '../../domain/drink/measures.ts';
import type { Choice } from '../../domain/drink/pour-choice.ts';
import { filterDoubt, splitFilters } from '../../domain/drink/spec-filter.ts';
import { type Books, isOpen, personName } from '../../domain/ledger/books.ts';
import { markedOut, outFor, outText } from '../../domain/service/out-by-hand.ts';
import { clockText } from '../../domain/value/clock-date.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { usableNow } from '../format.ts';
import { runningLow } from '../notice/running-low.ts';
import {
  besides,
  blank,
  cut,
  fitText,
  type Line,
  line,
  lineWidth,
  piece,
  widthOf,
  wrap,
} from '../parts/line.ts';
import { listLines, longestOf, named } from '../parts/list.ts';
import { placeText } from '../parts/place.ts';
import type { Scene, Size } from '../room.ts';
import { buildList } from './build-list.ts';
import { choiceCard, choiceName } from './card.ts';
import {
  type Aside,
  currentChoices,
  letterOf,
  meantBefore,
  meantOf,
  type PourState,
  roundOf,
  type Wanted,
} from './model.ts';

/** From this width on the card stands beside the list; below it, under a shorter one. */
const WIDE = 76;
const SHORT_LIST = 3;
/** Wider than this, what is left stands too far from the name it belongs to. */
const WIDEST_CARD = 72;

/** The last page a card in a window of that size has. */
export function lastPage(scene: Scene, own: PourState): number {
  const { books, size } = scene;
  const state = meantOf(own);
  const choices = currentChoices(books, state);
  const { card, cardRows } = layOut(scene, state, choices, { ...size, rows: size.rows - FRAME_ROWS });
  return card.length <= cardRows ? 0 : Math.ceil((card.length - cardRows + 1) / Math.max(1, cardRows - 2));
}
/** Title, the line under it, footer and a message of one line. */
const FRAME_ROWS = 4;
/** The field with the line under it, what runs low, and what was poured. */
const OWN_ROWS = 4;

/** Where the list and the card stand, and how much room each has. */
function layOut(scene: Scene, state: PourState, choices: readonly Choice[], size: Size) {
  const isWide = size.columns >= WIDE;
  const listWidth = isWide ? Math.min(76, Math.floor(size.columns * 0.47)) : size.columns;
  const bodyRows = size.rows - OWN_ROWS;
  const width = isWide ? Math.min(WIDEST_CARD, size.columns - listWidth - 2) : size.columns;
  const card = cardLines(scene, state, choices, width);
  const listRows = isWide || card.length === 0 ? bodyRows : Math.min(SHORT_LIST, choices.length, bodyRows);
  return { isWide, listWidth, bodyRows, card, listRows, cardRows: isWide ? bodyRows : bodyRows - listRows };
}

/** A name that is out of use is no new drink, and what only comes near it is not meant. */
function goneLines(books: Books, state: PourState, choices: readonly Choice[], width: number): Line[] {
  if (choices.some(({ isNear }) => !isNear)) return [];
  const gone = retiredName(books, state.query);
  if (gone !== null)
    return wrap(`${gone} is out of use; "retired" in the Book brings it back.`, width).map((text) =>
      line(text),
    );
  if (choices.length > 0) return [];
  const text =
    state.query.trim() === ''
      ? 'No drink yet: type its name, then ^N writes it.'
      : 'Nothing is called so; ^N writes it.';
  return [line(text)];
}

export function pourView(scene: Scene, own: PourState, size: Size): Line[] {
  const { books } = scene;
  // What was put aside just now is still what Enter means, so it is what is shown.
  const state = meantOf(own);
  const choices = currentChoices(books, state);
  const { isWide, listWidth, bodyRows, card, listRows, cardRows } = layOut(scene, state, choices, size);
  const columns = columnsOf(books, listWidth, state.query === '');
  const below = [lowLine(scene, size.columns), recentLine(scene, size.columns)];
  const gone = goneLines(books, state, choices, listWidth);
  const list = [
    ...gone,
    ...listLines(choices, state.cursor, listRows - gone.length, (choice, on) =>
      choiceRow(scene, choice, on, columns),
    ),
  ];
  const body = isWide
    ? besides(list, cutCard(card, cardRows, state.page), listWidth)
    : [...list, ...cutCard(card, cardRows, state.page)];
  const padded = [
    ...body.slice(0, bodyRows),
    ...Array.from({ length: Math.max(0, bodyRows - body.length) }, () => blank),
  ];
  const heads = headLine(columns, isWide && card.length > 0 ? size.columns - listWidth - 2 : 0);
  return [queryLine(books, own, size.columns), heads, ...padded, ...below];
}

/** The card of what is marked, or the build list of a round; nothing while nothing is typed or marked. */
function cardLines(scene: Scene, state: PourState, choices: readonly Choice[], width: number): Line[] {
  const { books } = scene;
  const marked = choices[Math.max(0, state.cursor)];
  if (marked === undefined || (state.query.trim() === '' && state.cursor < 0)) return [];
  const round = roundOf(books, state);
  const [head, ...rest] =
    round.length > 1
      ? buildList(books, round, width)
      : choiceCard(books, marked, round[0]?.count ?? 1, width);
  return head === undefined ? [] : [head, ...outLines(scene, round, width), ...rest];
}

/** What somebody said is out and one of the drinks needs: under its name, before anything else. */
function outLines({ books, now }: Scene, round: readonly Wanted[], width: number): Line[] {
  const marks = round.flatMap(({ choice }) =>
    choice?.kind === 'spec' ? outFor(choice.spec, books, now, choice.changes) : [],
  );
  return [...new Set(marks)]
    .flatMap((mark) => wrap(`86: ${outText(mark, books)}`, width))
    .map((text) => line(piece(text, 'bad')));
}

/** A card that does not fit loses words first; what it contains and its first caution stay in sight. The rest is a key away. */
function cutCard(card: readonly Line[], rows: number, page: number): readonly Line[] {
  if (card.length <= rows) return card;
  if (page > 0) return pageOf(card, rows, page);
  const kept = noticeOf(card);
  const rest = card
    .filter((content) => !kept.includes(content))
    .slice(0, Math.max(1, rows - kept.length - 1));
  const hidden = card.length - rest.length - kept.length;
  return [...rest, ...kept, line(`  ↓ ${hidden} more, PgDn`)].slice(0, rows);
}

/** What a card contains, to the last word of it, and its first caution: never cut, whatever else is. */
function noticeOf(card: readonly Line[]): readonly Line[] {
  const begins = (content: Line, sign: string): boolean => (content[0]?.text ?? '').startsWith(sign);
  const contains = card.findIndex((content) => begins(content, 'contains '));
  const caution = card.findIndex((content) => begins(content, '! '));
  const end = caution === -1 ? card.length : caution;
  return [
    ...(contains === -1 ? [] : card.slice(contains, end)),
    ...(caution === -1 ? [] : card.slice(caution, caution + 1)),
  ];
}

/** A further page, with a line of the one before; past the end it is the last. */
function pageOf(card: readonly Line[], rows: number, page: number): readonly Line[] {
  const step = Math.max(1, rows - 2);
  const from = Math.min(page * step, Math.max(0, card.length - rows + 1));
  const shown = card.slice(from, from + rows - 1);
  const below = card.length - from - shown.length;
  return [...shown, line(below > 0 ? `  ↓ ${below} more, PgDn` : '  ↑ PgUp goes back')];
}

function queryLine(books: Books, state: PourState, width: number): Line {
  const typed = line(piece('▸ ', 'strong'), piece(cut(state.query, width - 20)), piece(' ', 'chosen'));
  const as = state.as === 'sale' ? '' : `as ${state.as}  `;
  const parts = roundOf(books, state);
  const isPlain =
    parts.length === 1 && parts.every((part) => changesOf(part).length === 0 && part.when === null);
  const hint =
    state.query === ''
      ? emptyHint(state.aside)
      : isPlain
        ? (filterDoubt(splitFilters(parts[0]?.text ?? '').filters, books) ?? '')
        : parts.map(partText).join(' + ');
  const other = state.query === '' ? null : meantBefore(books, state);
  const sign = other === null ? '' : `≠ "${other.text}" poured ${other.spec.name} before  `;
  const rest = Math.max(0, width - lineWidth(typed) - as.length - widthOf(sign) - 3);
  return [...typed, ...line('  ', piece(as, 'warn'), piece(sign, 'warn'), cut(hint, rest))];
}

const emptyHint = (aside: Aside | null): string =>
  aside === null
    ? 'type its letter, or a few; 2 lan, 1 neg makes a round'
    : `not poured: ${aside.text}  (${aside.isFresh ? 'Enter tries it again, Backspace mends it' : 'Backspace takes it up again'})`;

const changesOf = ({ choice, changes }: Wanted): readonly string[] =>
  choice?.kind === 'spec' ? choice.changes : changes;

function partText(part: Wanted): string {
  const changes = changesOf(part);
  const when =
    part.when === null ? '' : 'ago' in part.when ? ` ${part.when.ago} min ago` : ` at ${part.when.clock}`;
  const near = part.choice?.isNear === true ? '≈ ' : '';
  return `${part.count} ${near}${choiceName(part.choice)}${changes.length === 0 ? '' : ` (${changes.join(', ')})`}${when}`;
}

/** What only comes near is marked as that. */
const nearMark = ({ isNear }: Choice): string => (isNear ? '≈ ' : '');

/** Names first and whole, then what tells drinks apart, then the family; how many are left stands at the end. */
type Columns = {
  /** Nothing is typed yet: each drink says the letter that stands for it. */
  readonly hasLetters: boolean;
  readonly width: number;
  readonly name: number;
  readonly family: number;
  readonly key: number;
};
const LEFT = 5;

const longestName = memoBy(
  ({ specs }: Books) => [specs],
  ({ specs }): number => longestOf([...specs.values()].map(({ name }) => name)),
);

function columnsOf(books: Books, width: number, hasLetters: boolean): Columns {
  const rest = width - 2 - LEFT;
  const name = Math.min(rest, Math.max(12, longestName(books)) + NEAR);
  const family = rest - name >= 30 ? 10 : 0;
  const key = Math.max(0, rest - name - family);
  return { hasLetters, width, name, family, key: key < 8 ? 0 : key };
}
/** Room for the sign that a name only comes near. */
const NEAR = 2;

/** What the columns of the list are; the card's last one stands under the same word. */
function headLine({ hasLetters, width, name, family, key }: Columns, cardWidth: number): Line {
  const parts = [
    `  ${fitText(hasLetters ? '  by letter' : 'drink', name)}`,
    family === 0 ? '' : fitText(' kind', family),
    key === 0 ? '' : fitText(' of', key),
  ];
  const head = fitText(parts.join(''), width - LEFT) + fitText('left', LEFT, 'right');
  const card =
    cardWidth === 0
      ? []
      : [piece('  '), piece(fitText('left', Math.min(WIDEST_CARD, cardWidth), 'right'), 'under')];
  return [piece(head, 'under'), ...card];
}

function choiceRow({ books, now }: Scene, choice: Choice, on: boolean, columns: Columns): Line {
  if (choice.kind === 'straight') return named(on, `${nearMark(choice)}${choiceName(choice)}`, columns.width);
  const { spec } = choice;
  const isOut = outFor(spec, books, now, choice.changes).length > 0;
  const left = isOut ? 0 : (drinksLeft(spec, books, usableNow(books)) ?? 0);
  const family = columns.family === 0 ? '' : ` ${fitText(spec.family, columns.family - 1)}`;
  const key = columns.key === 0 ? '' : ` ${fitText(keyItems(books, spec, columns.key - 1), columns.key - 1)}`;
  const tail = left === 0 ? 'out' : left > 999 ? '999' : String(left);
  return [
    ...named(
      on,
      `${columns.hasLetters ? `${letterOf(books).get(spec.id) ?? ' '} ` : nearMark(choice)}${spec.name}`,
      columns.name + 2,
    ),
    piece(fitText(family + key, columns.width - columns.name - 2 - LEFT)),
    piece(fitText(tail, LEFT, 'right'), left === 0 ? 'bad' : left <= 3 ? 'warn' : 'plain'),
  ];
}

/** The items that tell a drink, in short: the first other name of each, as many as stand there whole. */
function keyItems(books: Books, spec: Spec, width: number): string {
  let text = '';
  for (const { item } of spec.measures) {
    const stocked = books.items.get(item);
    const next = stocked?.also[0] ?? (stocked === undefined ? item : bareName(stocked.name).toLowerCase());
    const more = text === '' ? next : `${text}, ${next}`;
    if (widthOf(more) > width) break;
    text = more;
  }
  return text;
}

function lowLine({ books, now, usual }: Scene, width: number): Line {
  const out = markedOut(books, now).map((mark) => outText(mark, books));
  const said = out.length === 0 ? '' : `86  ${out.join(' · ')}   `;
  const low = runningLow(books, now, usual);
  const room = width - widthOf(said);
  return [
    ...(said === '' ? [] : [piece(cut(said, width), 'bad')]),
    ...(low === '' || room < 24 ? [] : line(piece('running low  ', 'warn'), cut(low, room - 13))),
  ];
}

function recentLine({ books, house }: Scene, width: number): Line {
  if (!isOpen(books.shift)) return line(cut('No shift is open. Press ^O to open one.', width));
  const recent = [...books.shift.recent].reverse().slice(0, 6);
  const { zone } = books.house;
  const pours = recent.map(
    ({ at, by, text, as, station }) =>
      `${clockText(at, zone)} ${placeText(house, station)}${text}${as === 'sale' ? '' : `, ${as}`}${by === null ? '' : ` (${personName(books, by)})`}`,
  );
  return line(cut(pours.length === 0 ? 'Nothing poured yet.' : pours.join('   '), width));
}
