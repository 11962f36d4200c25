// A round as one card: each bottle is touched once and says which drink gets how much of it; then how each is made and served,
// what they contain and what to say, once, with whose it is.

import type { Spec } from '../../domain/catalogue/spec.ts';
import { straightPrice } from '../../domain/catalogue/straight.ts';
import { allergensOf } from '../../domain/drink/allergens.ts';
import { applyChanges } from '../../domain/drink/changes.ts';
import { type DrinkFigures, drinkFigures } from '../../domain/drink/drink.ts';
import { measureName, measureText, sumKey, sumText, type Times } from '../../domain/drink/measure-text.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { moneyText, shortName } from '../format.ts';
import { blank, fitText, type Line, line, piece, widthOf, wrap } from '../parts/line.ts';
import { leftOf, servedText } from '../parts/spec-card.ts';
import type { Wanted } from './model.ts';

/** One drink of a round, made as it is wanted; figures are null where a measure can't be read. */
type Made = { readonly spec: Spec; readonly count: number; readonly figures: DrinkFigures | null };

type Share = Times & { readonly drink: string };
type Touch = { readonly shares: readonly Share[] };

const AMOUNT_WIDTH = 11;

function madeOf(books: Books, round: readonly Wanted[]): Made[] {
  return round.flatMap(({ count, choice }): Made[] => {
    if (choice?.kind !== 'spec') return [];
    const changed = applyChanges(books, choice.spec, choice.changes);
    const spec = changed.ok ? { ...choice.spec, measures: [...changed.value] } : choice.spec;
    const figures = drinkFigures(spec, books);
    return [{ spec, count, figures: figures.ok ? figures.value : null }];
  });
}

/** What a round takes of each thing, in the order the hand meets it, and how it is split over the drinks. */
function touchesOf(books: Books, made: readonly Made[]): Touch[] {
  const touches = new Map<string, Share[]>();
  for (const { spec, count, figures } of made)
    for (const measured of figures?.lines ?? []) {
      const key = sumKey(measured, books);
      const shares = touches.get(key) ?? [];
      // The same drink named twice in a round is one share.
      const same = shares.findIndex(
        ({ drink, line: known }) => drink === spec.name && known.amount === measured.amount,
      );
      const before = shares[same];
      if (before === undefined) shares.push({ line: measured, times: count, drink: spec.name });
      else shares[same] = { ...before, times: before.times + count };
      touches.set(key, shares);
    }
  return [...touches.values()].map((shares) => ({ shares }));
}

/** The whole round: what it comes to, every bottle, every drink's method and glass, what is in it. */
export function buildList(books: Books, round: readonly Wanted[], width: number): Line[] {
  const made = madeOf(books, round);
  const known = round.filter(({ choice }) => choice !== null);
  const drinks = known.reduce((sum, { count }) => sum + count, 0);
  const unknown = round.filter(({ choice, text }) => choice === null && text !== '');
  const price = roundPrice(books, round);
  return [
    line(piece(fitText(`one round, ${drinks} drinks`, width - price.length - 1), 'strong'), ` ${price}`),
    ...(unknown.length === 0
      ? []
      : wrap(`not understood: ${unknown.map(({ text }) => text).join(', ')}`, width).map((text) =>
          line(piece(text, 'bad')),
        )),
    ...touchesOf(books, made).flatMap((touch) => touchLines(books, touch, width)),
    ...straights(round, width),
    blank,
    ...howLines(made, width),
    ...noticeLines([...made, ...straightNotices(books, round)], width),
  ];
}

/** What the guest pays in all; what has no price is said. */
function roundPrice(books: Books, round: readonly Wanted[]): string {
  const prices = round.map(({ count, choice }): number | null => {
    if (choice === null) return null;
    const each =
      choice.kind === 'spec'
        ? choice.spec.priceMinor
        : straightPrice(choice.item, choice.amount, books.house);
    return each === null ? null : each * count;
  });
  const priced = prices.filter((price) => price !== null);
  if (priced.length === 0) return '';
  const without = round.filter(({ choice }) => choice !== null).length - priced.length;
  const sum = priced.reduce((all, price) => all + price, 0);
  return `${moneyText(sum, books)}${without === 0 ? '' : `, ${without} without a price`}`;
}

/** How much in all, of what, how many such rounds it gives; and below it who gets what, when several do. */
function touchLines(books: Books, { shares }: Touch, width: number): Line[] {
  const [first] = shares;
  if (first === undefined) return [];
  const { item } = first.line;
  const unit = books.house.units;
  const need = shares.reduce((sum, { line: { amount }, times }) => sum + amount * times, 0);
  const { tail, style } = leftOf(books, item, need);
  const each = ({ line: measured, times, drink }: Share): string => {
    const { measure } = measured;
    // An egg a drink needs no "2 × 1".
    if (measure.unit === 'each' && measure.quantity === '1') return `${times > 1 ? `${times} ` : ''}${drink}`;
    return `${times > 1 ? `${times} × ` : ''}${measureText(measured, books, unit, 1)} ${drink}`;
  };
  const name =
    measureName(first.line, books) === item.name ? shortName(item) : measureName(first.line, books);
  const nameWidth = Math.max(6, width - AMOUNT_WIDTH - 7);
  // One drink alone is named on the same line where there is room.
  const whole = `${name}, ${each(first)}`;
  const isOneLine = shares.length === 1 && widthOf(whole) <= nameWidth;
  const head = line(
    piece(fitText(sumText(shares, books, unit), AMOUNT_WIDTH), 'strong'),
    ` ${fitText(isOneLine ? whole : name, nameWidth)} `,
    piece(fitText(tail, 5, 'right'), style),
  );
  const rest = isOneLine ? [] : wrap(shares.map(each).join(', '), width - AMOUNT_WIDTH - 1);
  return [head, ...rest.map((text) => line(`${' '.repeat(AMOUNT_WIDTH + 1)}${text}`))];
}

const straights = (round: readonly Wanted[], width: number): Line[] =>
  round.flatMap(({ count, choice }) =>
    choice?.kind === 'straight'
      ? [
          line(
            piece(fitText(`${count > 1 ? `${count} × ` : ''}${choice.text}`, AMOUNT_WIDTH), 'strong'),
            ` ${fitText(`${shortName(choice.item)}, straight`, Math.max(6, width - AMOUNT_WIDTH - 1))}`,
          ),
        ]
      : [],
  );

/** Method, glass, ice and garnish; said once where all drinks have them alike. */
function howLines(made: readonly Made[], width: number): Line[] {
  const hows = made.map(({ spec }) =>
    [spec.method, servedText(spec)].filter((text) => text !== '').join(' · '),
  );
  if (new Set(hows).size === 1) return wrap(hows[0] ?? '', width).map((text) => line(text));
  return made.flatMap(({ spec, count }, index) =>
    wrap(`${count > 1 ? `${count} ` : ''}${spec.name}: ${hows[index]}`, width).map((text) => line(text)),
  );
}

type Notices = Pick<DrinkFigures, 'allergens' | 'cautions'>;
type Noticed = { readonly spec: { readonly name: string }; readonly figures: Notices | null };

/** A glass of wine has its sulphites, too. */
const straightNotices = (books: Books, round: readonly Wanted[]): Noticed[] =>
  round.flatMap(({ choice }) => {
    if (choice?.kind !== 'straight') return [];
    const { item } = choice;
    const cautions = item.caution === '' ? [] : [item.caution];
    return [
      { spec: { name: shortName(item) }, figures: { allergens: allergensOf([item], books), cautions } },
    ];
  });

/** What is in the round and what to say of it: each thing once, with the drinks it is in. */
function noticeLines(made: readonly Noticed[], width: number): Line[] {
  const contains = inWhich(made, ({ allergens }) => allergens);
  const cautions = inWhich(made, ({ cautions: said }) => said);
  return [
    ...(contains.length === 0
      ? []
      : wrap(`contains ${contains.map(([what, drinks]) => `${what} (${drinks})`).join(', ')}`, width)),
    ...cautions.flatMap(([what, drinks]) => wrap(`! ${drinks}: ${what}`, width)),
  ].map((text) => line(piece(text, 'warn')));
}

function inWhich(
  made: readonly Noticed[],
  of: (figures: Notices) => readonly string[],
): (readonly [what: string, drinks: string])[] {
  const found = new Map<string, Set<string>>();
  for (const { spec, figures } of made)
    for (const what of figures === null ? [] : of(figures))
      found.set(what, (found.get(what) ?? new Set()).add(spec.name));
  return [...found].map(([what, drinks]) => [what, [...drinks].join(', ')] as const);
}
