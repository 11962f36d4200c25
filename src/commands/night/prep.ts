// make, discard: what is made here, and what of it is thrown away past its date.
import { amountFor } from '../../domain/catalogue/container-words.ts';
import { splitSigned } from '../../domain/catalogue/units.ts';
import { intendDiscard, intendMaking } from '../../domain/intent/prep/intend-prep.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { Event } from '../../domain/ledger/event.ts';
import { findPrep } from '../../domain/prep/setting.ts';
import { labelLines, labelOf } from '../../domain/prep/words.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { labelHtml } from '../../exchange/page/label-html.ts';
import { type Command, flagOf, hasFlag, refused, usageProblem } from '../line/command.ts';
import { recordWith } from '../line/record.ts';

const by = { name: 'by', takes: 'NAME', says: 'who' };

/** "950 ml" of what is made, or "1 bottle". */
function yieldOf(books: Books, text: string | undefined, name: string): Result<number | null> {
  if (text === undefined) return done(null);
  const card = findPrep(books, name);
  if (!card.ok) return card;
  const item = books.items.get(card.value.makes.item);
  const split = splitSigned(text, books.house);
  const amount = item === undefined || split === null || split.rest !== '' ? null : amountFor(item, split);
  return amount !== null && amount > 0
    ? done(amount)
    : refuse(
        'bad-amount',
        `--yield "${clean(text).slice(0, 20)}" is not an amount of it. Write what came out, as 950 ml.`,
      );
}

const labelsOf = (events: readonly Event[], books: Books) =>
  events.flatMap((event) => {
    if (event.kind !== 'prep-made') return [];
    const lot = books.lots.get(event.item)?.find(({ id }) => id === event.id);
    const item = books.items.get(event.item);
    return lot === undefined || item === undefined ? [] : [labelOf(books, lot, item)];
  });

export const make: Command = {
  name: 'make',
  usage: ['make NAME [--times N | --yield AMOUNT] [--by NAME] [--label] [--html FILE]'],
  says: 'records a making: what its card measures goes out, a lot with its date comes in',
  examples: ['make "simple syrup"', 'make "lime juice" --yield 640ml --label'],
  flags: [
    { name: 'times', takes: 'N', says: 'how many times the card; once, unless it is given' },
    { name: 'yield', takes: 'AMOUNT', says: 'what came out, where it was measured' },
    { name: 'label', says: 'prints what goes on the bottle' },
    { name: 'html', takes: 'FILE', says: 'the label as a page of 62 × 29 mm' },
    by,
  ],
  run: (context) => {
    const name = context.words.join(' ');
    if (name === '') return usageProblem('Say what was made, as ullage make "simple syrup".');
    const times = flagOf(context, 'times') ?? '1';
    if (!/^\d{1,3}$/.test(times)) return usageProblem('--times takes a whole number. Give one.');
    return recordWith(
      context,
      (books, moment, now) => {
        const card = findPrep(books, name);
        if (!card.ok) return card;
        const amount = yieldOf(books, flagOf(context, 'yield'), name);
        if (!amount.ok) return amount;
        return intendMaking(
          books,
          { ...moment, card: card.value, times: Number(times), amount: amount.value },
          now,
        );
      },
      (events, books) => {
        const labels = labelsOf(events, books);
        const file = flagOf(context, 'html');
        const written = file === undefined ? done(null) : context.world.writeFile(file, labelHtml(labels));
        const wrote =
          file === undefined
            ? ''
            : written.ok
              ? `Wrote ${clean(file)}.`
              : refused(written.problems).err.trim();
        return [...(hasFlag(context, 'label') ? labels.flatMap(labelLines) : []), wrote]
          .filter((text) => text !== '')
          .join('\n');
      },
    );
  },
};

export const discard: Command = {
  name: 'discard',
  usage: ['discard LOT [--by NAME]'],
  says: 'throws away what is left of a lot: a loss, expired; ullage lots names them',
  flags: [by],
  run: (context) => {
    const [lot = ''] = context.words;
    if (context.words.length !== 1) return usageProblem('Say which lot, by its id: ullage lots lists them.');
    return recordWith(context, (books, moment) => intendDiscard(books, lot as EventId, moment));
  },
};
