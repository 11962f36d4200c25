// The card of the marked drink: measures with what each leaves, method, glass, cautions.

import type { Item } from '../../domain/catalogue/item.ts';
import { straightPrice } from '../../domain/catalogue/straight.ts';
import { allergensOf } from '../../domain/drink/allergens.ts';
import { applyChanges } from '../../domain/drink/changes.ts';
import type { Choice } from '../../domain/drink/pour-choice.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { saidInRooms } from '../../domain/value/problem.ts';
import { amountText, moneyText, shortName, usableNow } from '../format.ts';
import { blank, fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import { specCard } from '../parts/spec-card.ts';

/** The card of what is marked, with the changes typed after it already made. */
export function choiceCard(books: Books, choice: Choice, count: number, width: number): Line[] {
  if (choice.kind === 'spec') {
    const changed = applyChanges(books, choice.spec, choice.changes);
    if (changed.ok) return specCard(books, { ...choice.spec, measures: [...changed.value] }, count, width);
    return changed.problems
      .flatMap((problem) => wrap(saidInRooms(problem), width))
      .map((text) => line(piece(text, 'warn')));
  }
  const each = straightPrice(choice.item, choice.amount, books.house);
  const price = each === null ? '' : moneyText(each * count, books);
  const left = (usableNow(books).get(choice.item.id) ?? 0) - choice.amount * count;
  return [
    line(
      piece(
        fitText(
          `${count > 1 ? `${count} × ` : ''}${choice.text} ${choice.item.name}`,
          width - price.length - 1,
        ),
        'strong',
      ),
      ` ${price}`,
    ),
    blank,
    line(`straight · leaves ${amountText(left, choice.item, books)}`),
    ...noticesOf(books, choice.item, width),
  ];
}

/** What an item poured straight contains, and its caution. */
function noticesOf(books: Books, item: Item, width: number): Line[] {
  const contains = allergensOf([item], books);
  return [
    ...(contains.length === 0 ? [] : wrap(`contains ${contains.join(', ')}`, width)),
    ...(item.caution === '' ? [] : wrap(`! ${item.caution}`, width)),
  ].map((text) => line(piece(text, 'warn')));
}

export const choiceName = (choice: Choice | null): string =>
  choice === null
    ? '?'
    : choice.kind === 'spec'
      ? choice.spec.name
      : `${choice.text} ${shortName(choice.item)}`;
