// make, discard: what is made here, and what of it is thrown away past its date.
import { amountFor } from '../../domain/catalogue/container-words.ts';
import { displayAmount, shownIn } from '../../domain/catalogue/display.ts';
import { splitSigned } from '../../domain/catalogue/units.ts';
import { intendDiscard, intendMaking } from '../../domain/intent/prep/intend-prep.ts';
import { type Books, expectedOf } from '../../domain/ledger/books.ts';
import type { Event } from '../../domain/ledger/event.ts';
import { lotsOf } from '../../domain/ledger/stock/in-date.ts';
import { isLate } from '../../domain/ledger/stock/lot.ts';
import { findPrep } from '../../domain/prep/setting.ts';
import { type Label, labelLines, labelOf } from '../../domain/prep/words.ts';
import { findItem } from '../../domain/search/find.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { labelHtml } from '../../exchange/page/label-html.ts';
import {
  type Command,
  type Context,
  flagOf,
  hasFlag,
  type Outcome,
  refused,
  usageProblem,
} from '../line/command.ts';
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

/** What a making took that the books did not have. */
const belowZero = (events: readonly Event[], books: Books): string[] =>
  events
    .flatMap((event) => (event.kind === 'prep-made' ? event.draws : []))
    .flatMap(({ item: id }) => {
      const item = books.items.get(id);
      const left = expectedOf(books, id);
      return item === undefined || left >= 0
        ? []
        : [
            `${clean(item.name)} is ${displayAmount(-left, shownIn(item), books.house)} below zero in the books: a delivery or a count will explain it.`,
          ];
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
  run: async (context) => {
    const name = context.words.join(' ');
    if (name === '') return usageProblem('Say what was made, as ullage make "simple syrup".');
    const times = flagOf(context, 'times') ?? '1';
    if (!/^\d{1,3}$/.test(times))
      return usageProblem('--times takes a whole number from 1 to 100. Give one.');
    let labels: readonly Label[] = [];
    const made = await recordWith(
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
        labels = labelsOf(events, books);
        const printed = hasFlag(context, 'label') ? labels.flatMap(labelLines) : [];
        return [...belowZero(events, books), ...printed].join('\n');
      },
    );
    return made.exit === 0 ? withPage(context, made, labels) : made;
  },
};

/** The labels as a page, where one is asked for. What was made stands whatever happens to the file: it is said first. */
function withPage(context: Context, made: Outcome, labels: readonly Label[]): Outcome {
  const file = flagOf(context, 'html');
  if (file === undefined) return made;
  const written = context.world.writeFile(file, labelHtml(labels));
  if (written.ok) return context.json ? made : { ...made, out: `${made.out}Wrote ${clean(file)}.\n` };
  const { exit, err } = refused(written.problems);
  return { ...made, exit, err: `${made.err}${err}` };
}

export const discard: Command = {
  name: 'discard',
  usage: ['discard LOT|ITEM [--by NAME]'],
  says: 'throws away what is left of a lot: a loss, expired; an item is enough where one lot of it is past its date, or it has but one',
  examples: ['discard "lime juice"'],
  flags: [by],
  run: (context) => {
    const text = context.words.join(' ');
    if (text === '') return usageProblem('Say which lot, by its id or its item: ullage lots lists them.');
    return recordWith(context, (books, moment, now) => {
      const lot = lotMeant(books, text, now);
      return lot.ok ? intendDiscard(books, lot.value, moment) : lot;
    });
  },
};

/** A lot by its id, or the one of an item that is late; else its only one. */
function lotMeant(books: Books, text: string, now: string): Result<EventId> {
  if (/^[0-9a-f-]{36}$/.test(text)) return done(text as EventId);
  const item = findItem(books, text);
  if (!item.ok) return item;
  const all = lotsOf(books, item.value.id);
  const late = all.filter((lot) => isLate(lot, now));
  const [only, ...more] = late.length > 0 ? late : all;
  if (only !== undefined && more.length === 0) return done(only.id);
  return only === undefined
    ? refuse(
        'unknown-lot',
        `Nothing stands of a lot of ${item.value.name}. Run ullage lots to see what does.`,
      )
    : refuse(
        'several-lots',
        `Several lots of ${item.value.name} stand there. Name one by its id: ullage lots "${item.value.id}".`,
      );
}
