// pour: drinks and straight measures that left the bar, in the words of the Pour room.

import { unitText } from '../../domain/catalogue/display.ts';
import { amountOf, splitQuantity } from '../../domain/catalogue/units.ts';
import { intendPour, intendStraight } from '../../domain/intent/intend-pour.ts';
import type { Moment } from '../../domain/intent/moment.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { expectedOf } from '../../domain/ledger/books.ts';
import type { Event } from '../../domain/ledger/event.ts';
import { type PourPurpose, purposes } from '../../domain/ledger/event.ts';
import { findItem, findSpec } from '../../domain/search/find.ts';
import { servingNotice } from '../../domain/standard/law.ts';
import { exactText } from '../../domain/value/amount.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { type Command, type Context, flagOf, usageProblem } from '../line/command.ts';
import { recordWith } from '../line/record.ts';

export const pour: Command = {
  name: 'pour',
  usage: ['pour [N] SPEC [--by NAME] [--as PURPOSE] [--with CHANGE]…', 'pour AMOUNT ITEM …'],
  says: 'records N drinks, or a straight measure of one item',
  examples: [
    'pour 2 "lantern sour" --by Ines',
    'pour 45ml "dry gin" --as comp',
    'pour "lantern sour" --with "gin=45ml" --with "-egg white"',
  ],
  flags: [
    { name: 'by', takes: 'NAME', says: 'who poured; default: who is pouring in the open shift' },
    { name: 'as', takes: 'PURPOSE', says: purposes.join(', ') },
    { name: 'with', takes: 'CHANGE', says: 'gin=45ml, gin->rye, -egg white, +15ml lemon juice', many: true },
  ],
  run: (context) => {
    if (context.words.length === 0)
      return usageProblem('Name what was poured, as ullage pour 2 "lantern sour".');
    const as = purposeOf(context);
    if (as === null) return usageProblem(`--as takes ${purposes.join(', ')}. Give one of these.`);
    return recordWith(context, (books, moment) => decide(context, books, moment, as), leftAfter);
  },
};

function purposeOf(context: Context): PourPurpose | null {
  const word = flagOf(context, 'as') ?? 'sale';
  return purposes.find((purpose) => purpose === word) ?? null;
}

function decide(context: Context, books: Books, moment: Moment, as: PourPurpose) {
  const changes = context.flags.get('with') ?? [];
  const { count, rest } = takeCount(context.words);
  if (!count.ok) return count;
  const text = rest.join(' ');
  const spec = findSpec(books, text);
  if (spec.ok) return intendPour(books, { ...moment, spec: spec.value, count: count.value, as, changes });
  const split = splitQuantity(context.words.join(' '), books.house);
  if (split === null || split.unit === 'each' || split.rest === '') return spec;
  const item = findItem(books, split.rest);
  if (!item.ok) return item;
  const amount = amountOf(split.quantity, split.unit, books.house);
  if (amount === null || amount.unit !== item.value.unit) {
    return refuse(
      'other-unit',
      `${item.value.name} is kept in ${item.value.unit === 'each' ? 'pieces' : item.value.unit}. Give the amount in that unit.`,
    );
  }
  return intendStraight(books, { ...moment, item: item.value, amount: amount.amount, count: 1, as });
}

/** A leading whole number is how many; what looks like a number but is none is refused here. */
function takeCount(words: readonly string[]): { count: Result<number>; rest: readonly string[] } {
  const [first, ...rest] = words;
  if (first === undefined || rest.length === 0) return { count: done(1), rest: words };
  if (/^\d{1,9}$/.test(first)) return { count: done(Number(first)), rest };
  if (/^[-+]?(\d+([.,]\d+)?(e\d+)?|nan|infinity)$/i.test(first)) {
    return {
      count: refuse(
        'bad-count',
        `"${clean(first).slice(0, 20)}" is not a number of drinks. Give a whole number from 1 to 200.`,
      ),
      rest,
    };
  }
  return { count: done(1), rest: words };
}

/** What a pour left: bottles that ran out, and what went below zero. */
function leftAfter(events: readonly Event[], books: Books): string {
  const lines: string[] = [];
  for (const event of events) {
    if (event.kind !== 'drink-poured' && event.kind !== 'measure-poured') continue;
    for (const draw of event.draws) {
      const item = books.items.get(draw.item);
      const liquids = event.draws.filter(({ item: id }) => books.items.get(id)?.unit === 'ml').length;
      const notice =
        item === undefined ? null : servingNotice(item, draw.amount / event.count, liquids, books.house);
      if (notice !== null) lines.push(clean(notice));
      const left = expectedOf(books, draw.item);
      if (item === undefined || left > 0) continue;
      lines.push(
        left === 0
          ? `${clean(item.name)} is out.`
          : `${clean(item.name)} is ${exactText(-left)}${unitText(item.unit)} below zero in the books: a delivery or a count will explain it.`,
      );
    }
  }
  return lines.join('\n');
}
