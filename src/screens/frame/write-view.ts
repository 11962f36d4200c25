// Writing a card: its lines on the left as they are typed, the card as it stands beside them, or what a line should be.
import { isPrepCard, type Spec } from '../../domain/catalogue/spec.ts';
import { drinkFigures } from '../../domain/drink/drink.ts';
import { glassText } from '../../domain/drink/glass.ts';
import { familyRange } from '../../domain/drink/kin/family.ts';
import { kinOf } from '../../domain/drink/kin/kin.ts';
import { differenceText } from '../../domain/drink/kin/kin-text.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { Problem } from '../../domain/value/problem.ts';
import { moneyText } from '../format.ts';
import { besides, blank, cut, fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import { windowOf } from '../parts/list.ts';
import { specCard } from '../parts/spec-card.ts';
import type { Size } from '../room.ts';

export type Written = {
  readonly text: string;
  /** Where the next character goes. */
  readonly at: number;
  readonly title: string;
  /** The card as it stands, when all of it can be read. */
  readonly spec: Spec | null;
  /** What is to be read beside the lines when there is no card. */
  readonly said: readonly string[];
  readonly problems: readonly Problem[];
  /** What would change, old and new. */
  readonly changes: readonly string[];
};

const WIDE = 76;

export function writeLines(books: Books, written: Written, { columns, rows }: Size): Line[] {
  const isWide = columns >= WIDE;
  const fieldWidth = isWide ? Math.floor(columns * 0.48) : columns;
  const body = rows - 3;
  const fieldRows = isWide ? body : Math.max(5, Math.ceil(body * 0.55));
  const field = fieldLines(written, fieldWidth, fieldRows);
  const beside = besideLines(books, written, isWide ? columns - fieldWidth - 2 : columns);
  const shown = isWide
    ? besides(field, beside.slice(0, body), fieldWidth)
    : [...field, ...beside.slice(0, body - field.length)];
  const padded = [...shown, ...Array.from({ length: Math.max(0, body - shown.length) }, () => blank)];
  return [
    line(piece(cut(written.title, columns), 'strong')),
    ...padded.slice(0, body),
    blank,
    line(cut('Enter twice at the end writes; Esc puts it aside for ^N.', columns)),
  ];
}

/** The lines with the place of the next character; a line that can't be read is marked. */
function fieldLines({ text, at, problems }: Written, width: number, rows: number): Line[] {
  const lines = text.split('\n');
  const before = text.slice(0, at).split('\n');
  const [row, column] = [before.length - 1, [...(before.at(-1) ?? '')].length];
  const window = windowOf(lines.length, row, rows);
  const bad = new Set(problems.map(({ line: number }) => (number ?? 1) - 1));
  return lines.slice(window.first, window.first + window.count).map((content, index) => {
    const number = window.first + index;
    const mark = bad.has(number) ? piece('✗ ', 'warn') : piece('  ');
    if (number !== row) return [mark, piece(fitText(content, width - 2))];
    const chars = [...content];
    // What is longer than its place is shown around the next character.
    const from = Math.max(0, column - (width - 4));
    return [
      mark,
      piece(chars.slice(from, column).join('')),
      piece(chars[column] ?? ' ', 'chosen'),
      piece(chars.slice(column + 1, from + width - 3).join('')),
    ];
  });
}

function besideLines(books: Books, { spec, said, problems, changes }: Written, width: number): Line[] {
  const text = (content: string): Line[] => wrap(content, width).map((row) => line(row));
  if (problems.length > 0)
    return problems.flatMap(({ line: number, message }) =>
      wrap(`${number === undefined ? '' : `line ${number}: `}${message}`, width).map((row) =>
        line(piece(row, 'warn')),
      ),
    );
  return [
    ...(changes.length === 0 ? [] : [line(piece('what changes', 'under')), ...changes.flatMap(text), blank]),
    ...said.flatMap(text),
    ...(spec === null ? [] : [...specCard(books, spec, 1, width), ...figureLines(books, spec, width)]),
  ];
}

/** What the card does not show of a drink that is poured every night: sugar, acid, cost; and how its family stands in this house. */
function figureLines(books: Books, spec: Spec, width: number): Line[] {
  const read = drinkFigures(spec, books);
  // What follows for what it makes stands on the card itself.
  if (!read.ok || isPrepCard(spec)) return [];
  const { volumeMl, sugarGrams, acidGrams, costMinor, pourCostPercent, abvPercent } = read.value;
  const cost = costMinor === null ? 'cost unknown' : `costs ${moneyText(costMinor, books)}`;
  const share = pourCostPercent === null ? '' : `, pour cost ${pourCostPercent.toFixed(1)} %`;
  const range = familyRange(spec.family, books, spec.id);
  const lines = [
    glassText(spec, read.value, books),
    `${Math.round(volumeMl)} ml measured${abvPercent === null ? '' : ` at ${abvPercent.toFixed(1)} %`}, ${sugarGrams.toFixed(1)} g sugar, ${acidGrams.toFixed(2)} g acid`,
    `${cost}${share}`,
    range === null
      ? ''
      : `your ${/ed$/.test(spec.family) ? `${spec.family} ones` : `${spec.family}s`}: ${range.strength.map((one) => one.toFixed(0)).join('–')} %, sugar ${range.sugar.map((one) => one.toFixed(0)).join('–')} g/l`,
  ];
  const kin = kinOf(spec, books)
    .slice(0, 4)
    .map((one) => `${one.spec.name}: ${differenceText(one.difference, books)}`);
  return [...lines, ...(kin.length === 0 ? [] : [`one measure apart: ${kin.join('; ')}`])]
    .filter((one) => one !== '')
    .flatMap((one) => wrap(one, width))
    .map((row) => line(row));
}
