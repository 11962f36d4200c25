// A spec as a card: measures with what each leaves, method, glass, cautions.

import type { House } from '../../domain/catalogue/house.ts';
import { bareName, type Item, TAP_WATER } from '../../domain/catalogue/item.ts';
import { isPrepCard, type Spec } from '../../domain/catalogue/spec.ts';
import { type DrinkFigures, drinkFigures, standardDrinksText } from '../../domain/drink/drink.ts';
import { measureName, measureText } from '../../domain/drink/measure-text.ts';
import type { Measured } from '../../domain/drink/measures.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { madeLines } from '../../domain/prep/words.ts';
import { saidInRooms } from '../../domain/value/problem.ts';
import { moneyText, usableNow } from '../format.ts';
import { bar } from './bar.ts';
import { blank, fitText, type Line, line, piece, type Style, wrap } from './line.ts';
import { longestOf } from './list.ts';

// A spec as a card: measures with what each leaves, method, glass, cautions.

export function specCard(books: Books, spec: Spec, count: number, width: number): Line[] {
  const price = spec.priceMinor === null ? '' : moneyText(spec.priceMinor * count, books);
  const head = line(
    piece(fitText(`${count > 1 ? `${count} × ` : ''}${spec.name}`, width - price.length - 1), 'strong'),
    ` ${price}`,
  );
  const figures = drinkFigures(spec, books);
  if (!figures.ok)
    return [
      head,
      blank,
      ...figures.problems
        .flatMap((problem) => wrap(saidInRooms(problem), width))
        .map((text) => line(piece(text, 'warn'))),
    ];
  return [
    head,
    ...measureLines(books, figures.value.lines, count, width),
    blank,
    ...wordsOf(spec, figures.value, books, width),
  ];
}

const AMOUNT = 11;
const LEFT = 5;
const BAR = 5;

const nameOf = (books: Books, measured: Measured): string => {
  const { note } = measured.measure;
  return `${bareName(measureName(measured, books))}${note === undefined ? '' : `, ${note}`}`;
};

/** Names come before pictures: where one would be cut, the levels make way. */
function measureLines(books: Books, lines: readonly Measured[], count: number, width: number): Line[] {
  const rest = Math.max(6, width - AMOUNT - 1 - LEFT - 1);
  const hasBars = longestOf(lines.map((measured) => nameOf(books, measured))) + BAR + 1 <= rest;
  const nameWidth = hasBars ? rest - BAR - 1 : rest;
  return lines.map((measured) => measureLine(books, measured, count, { nameWidth, hasBars }));
}

/** "60 ml  London dry gin  ▇▇▇▁▁  9": amount, item, and what is left of it in drinks. */
function measureLine(
  books: Books,
  measured: Measured,
  count: number,
  { nameWidth, hasBars }: { readonly nameWidth: number; readonly hasBars: boolean },
): Line {
  const { item, amount } = measured;
  const expected = usableNow(books).get(item.id) ?? 0;
  const { tail, style } = leftOf(books, item, amount * count);
  const level =
    item.unit === 'ml' && item !== TAP_WATER
      ? bar((expected % item.size || (expected > 0 ? item.size : 0)) / item.size, BAR)
      : ' '.repeat(BAR);
  return line(
    piece(fitText(measureText(measured, books, books.house.units, count), AMOUNT), 'strong'),
    ` ${fitText(nameOf(books, measured), nameWidth)} ${hasBars ? `${level} ` : ''}`,
    piece(fitText(tail, LEFT, 'right'), style),
  );
}

/** How often what is there gives an amount, as the card's last column says it. */
export function leftOf(books: Books, item: Item, amount: number): { tail: string; style: Style } {
  if (item === TAP_WATER) return { tail: '', style: 'plain' };
  const expected = usableNow(books).get(item.id) ?? 0;
  const times = Math.floor(expected / amount);
  return {
    tail:
      expected <= 0
        ? (books.late.get(item.id) ?? 0) > 0
          ? 'late'
          : 'out'
        : times < 1
          ? 'short'
          : String(Math.min(times, 999)),
    style: times < 1 ? 'bad' : times <= 3 ? 'warn' : 'plain',
  };
}

/** Glass, ice and garnish, as far as there are any. */
/** "crushed ice", "ice cubes"; what says ice itself is left as it is. */
const iceText = (ice: string): string =>
  ice === '' || ice === 'none'
    ? ''
    : /\bice\b/i.test(ice)
      ? ice
      : `${ice} ice`.replace('cubes ice', 'ice cubes');

export const servedText = (spec: Spec): string =>
  [spec.glass, iceText(spec.ice), spec.garnish === 'none' ? '' : spec.garnish]
    .filter((word) => word !== '')
    .join(' · ');

function wordsOf(spec: Spec, figures: DrinkFigures, books: Books, width: number): Line[] {
  const { house } = books;
  const text = (content: string): Line[] => wrap(content, width).map((row) => line(row));
  const strength = figures.dilution === null ? figures.abvPercent : figures.dilution.finalAbvPercent;
  if (isPrepCard(spec))
    return [...text(spec.method), ...madeLines(books, spec).flatMap(text), ...noticeLines(figures, width)];
  return [
    ...text(spec.method),
    ...text(servedText(spec)),
    ...(strength === null ? [] : text(strengthText(strength, figures, house))),
    ...noticeLines(figures, width),
  ];
}

/** A part whose strength nobody wrote is not taken for none. */
function strengthText(
  strength: number,
  { unknownStrength, standardDrinks }: DrinkFigures,
  house: House,
): string {
  const known = `${strength.toFixed(0)} % · ${standardDrinksText(standardDrinks, house)}`;
  if (unknownStrength.length === 0) return `about ${known}`;
  const missing = `the strength of ${unknownStrength.join(', ')} is not known`;
  return strength === 0 ? missing : `at least ${known}; ${missing}`;
}

/** What it contains, and its cautions. */
const noticeLines = ({ allergens, cautions }: DrinkFigures, width: number): Line[] =>
  [
    ...(allergens.length === 0 ? [] : wrap(`contains ${allergens.join(', ')}`, width)),
    ...cautions.flatMap((caution) => wrap(`! ${caution}`, width)),
  ].map((row) => line(piece(row, 'warn')));
