// A round as one list: each bottle is touched once, and says which drink gets how much of it.

import type { Item } from '../../domain/catalogue/item.ts';
import { applyChanges } from '../../domain/drink/changes.ts';
import { linesOf } from '../../domain/drink/measures.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { exactText } from '../../domain/value/amount.ts';
import { shortName } from '../format.ts';
import { fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import type { Wanted } from './model.ts';

type Touch = { readonly item: Item; readonly total: number; readonly shares: readonly string[] };

/** What a round takes of each item, in the order the hand meets it, and how it is split over the drinks. */
export function touchesOf(books: Books, round: readonly Wanted[]): Touch[] {
  const touches = new Map<string, Touch>();
  for (const { count, choice } of round) {
    if (choice?.kind !== 'spec') continue;
    const changed = applyChanges(books, choice.spec, choice.changes);
    const lines = linesOf(changed.ok ? changed.value : choice.spec.measures, books);
    if (!lines.ok) continue;
    for (const { item, amount } of lines.value) {
      const before = touches.get(item.id) ?? { item, total: 0, shares: [] };
      const share = `${count > 1 ? `${count} × ` : ''}${exactText(amount)} ${choice.spec.name}`;
      touches.set(item.id, { item, total: before.total + amount * count, shares: [...before.shares, share] });
    }
  }
  return [...touches.values()];
}

/** Two lines a bottle: how much of it in all, and who gets what. */
export function buildList(books: Books, round: readonly Wanted[], width: number): Line[] {
  const drinks = round.reduce((sum, { count }) => sum + count, 0);
  return [
    line(piece(`one round, ${drinks} drinks`, 'strong')),
    ...touchesOf(books, round).flatMap(({ item, total, shares }) => {
      const amount = `${exactText(total)}${item.unit === 'each' ? '' : ` ${item.unit}`}`;
      const head = line(
        piece(fitText(amount, 9), 'strong'),
        ` ${fitText(shortName(item), Math.max(0, width - 10))}`,
      );
      return shares.length === 1
        ? [
            line(
              ...head.slice(0, 1),
              ` ${fitText(`${shortName(item)}: ${shares[0]}`, Math.max(0, width - 10))}`,
            ),
          ]
        : [head, ...wrap(shares.join(', '), width - 10).map((text) => line(`${' '.repeat(10)}${text}`))];
    }),
  ];
}
