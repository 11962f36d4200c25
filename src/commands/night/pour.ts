// pour: drinks and straight measures that left the bar, in the words of the Pour room.

import { isSoldWhole } from '../../domain/catalogue/container-words.ts';
import { straightAmount } from '../../domain/drink/straight-measure.ts';
import { asRound, intendPour, intendStraight } from '../../domain/intent/intend-pour.ts';
import { intendEach } from '../../domain/intent/intent.ts';
import { type Moment, momentOf } from '../../domain/intent/moment.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { expectedOf } from '../../domain/ledger/books.ts';
import type { Event, EventOf } from '../../domain/ledger/event.ts';
import { type PourPurpose, purposes } from '../../domain/ledger/event.ts';
import { findItem, findSpec } from '../../domain/search/find.ts';
import { yieldNames } from '../../domain/search/house-search.ts';
import { type PourPart, readRound } from '../../domain/search/pour-text.ts';
import { outFor, outForItem, outText } from '../../domain/service/out-by-hand.ts';
import { servingNotice } from '../../domain/standard/law.ts';
import { exactText } from '../../domain/value/amount.ts';
import { numberDoubt } from '../../domain/value/number.ts';
import { done, refuse } from '../../domain/value/problem.ts';
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
    return recordWith(context, (books, moment, now) => decide(context, books, moment, as, now), leftAfter);
  },
};

function purposeOf(context: Context): PourPurpose | null {
  const word = flagOf(context, 'as') ?? 'sale';
  return purposes.find((purpose) => purpose === word) ?? null;
}

/** The words as the Pour room would read them; but here nothing is guessed: a name is typed whole, or as far as it is the only one. */
function decide(context: Context, books: Books, moment: Moment, as: PourPurpose, now: string) {
  const said = context.words.join(' ');
  const drafts = intendEach(books, readRound(said, books), (_, part) =>
    decidePart(context, books, part, { moment, as, now }),
  );
  return drafts.ok ? done(asRound(drafts.value)) : drafts;
}

type PouredEvent = EventOf<'drink-poured'> | EventOf<'measure-poured'>;
type Circumstance = { readonly moment: Moment; readonly as: PourPurpose; readonly now: string };

function decidePart(context: Context, books: Books, part: PourPart, { moment, as, now }: Circumstance) {
  const { count, text } = part;
  const late = momentOf(part.when, now, books.house.zone);
  if (!late.ok) return late;
  const when = late.value === undefined ? moment : { ...moment, at: late.value };
  if (part.measure !== null) {
    const item = findItem(books, text, yieldNames);
    if (!item.ok) return item;
    const amount = straightAmount(item.value, part.measure, books);
    if (!amount.ok) return amount;
    return intendStraight(books, { ...when, item: item.value, amount: amount.value, count, as });
  }
  const changes = [...part.changes, ...(context.flags.get('with') ?? [])];
  const spec = findSpec(books, text);
  if (spec.ok) return intendPour(books, { ...when, spec: spec.value, count, as, changes });
  const whole = findItem(books, text);
  if (whole.ok && isSoldWhole(whole.value))
    return intendStraight(books, { ...when, item: whole.value, amount: whole.value.size, count, as });
  const [, name = '', without = ''] = /^(.*\S)\s+(?:no|without)\s+(\S.*)$/iu.exec(text) ?? [];
  const less = name === '' ? spec : findSpec(books, name);
  if (!less.ok) return numberLike.test(text) ? badCount(text) : spec;
  return intendPour(books, { ...when, spec: less.value, count, as, changes: [...changes, `-${without}`] });
}

/** What looks like a number of drinks and is none. */
const numberLike = /^[-+−]?([\d.,]+(e\d+)?|nan|infinity)(?=\s|$)/i;

const badCount = (text: string) =>
  refuse(
    'bad-count',
    numberDoubt(text) ??
      `"${clean(text.split(' ')[0] ?? '').slice(0, 20)}" is not a number of drinks. Give a whole number from 1 to 200.`,
  );

/** A command is meant: it pours what is marked out, and says so. */
function outLines(event: PouredEvent, books: Books): string[] {
  const spec = event.kind === 'drink-poured' ? books.specs.get(event.spec) : undefined;
  const marks =
    event.kind === 'drink-poured' && spec !== undefined
      ? outFor(spec, books, event.at, event.changes)
      : event.draws.flatMap(({ item }) => outForItem(item, books, event.at));
  return marks.map((mark) => clean(`It is marked out (86): ${outText(mark, books)}.`));
}

/** What a pour left: bottles that ran out, and what went below zero. */
function leftAfter(events: readonly Event[], books: Books): string {
  const lines: string[] = [];
  for (const event of events) {
    if (event.kind !== 'drink-poured' && event.kind !== 'measure-poured') continue;
    lines.push(...outLines(event, books));
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
          : `${clean(item.name)} is ${exactText(-left)}${item.unit === 'each' ? '' : ` ${item.unit}`} below zero in the books: a delivery or a count will explain it.`,
      );
    }
  }
  return lines.join('\n');
}
