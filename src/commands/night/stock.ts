// lose, receive, move, count: stock that left or came without a drink, and what was found.

import { splitContainers } from '../../domain/catalogue/container-words.ts';
import { displayAmount, missingText, shownIn } from '../../domain/catalogue/display.ts';
import { judge, needsSecondLook } from '../../domain/count/variance.ts';
import { intendCount, intendDelivery, intendLoss, intendMove } from '../../domain/intent/intend-stock.ts';
import { intendReceived } from '../../domain/intent/order/intend-order.ts';
import { movedByCame, readCame } from '../../domain/intent/order/read-came.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { stockKey } from '../../domain/ledger/books.ts';
import { type Event, lossReasons } from '../../domain/ledger/event.ts';
import { findAmount, findItem } from '../../domain/search/find.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { parseMoney } from '../../domain/value/money.ts';
import { numberDoubt } from '../../domain/value/number.ts';
import { refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { type Command, type Context, flagOf, hasFlag, usageProblem } from '../line/command.ts';
import { recordWith } from '../line/record.ts';

const by = { name: 'by', takes: 'NAME', says: 'who did it' };
const place = { name: 'place', takes: 'PLACE', says: 'where; default: where the item lives' };

export const lose: Command = {
  name: 'lose',
  usage: ['lose AMOUNT ITEM --why REASON [--by NAME] [--place PLACE]'],
  says: 'records stock gone without a drink',
  examples: ['lose 50ml "dry gin" --why spill', 'lose 1 bottle "dry gin" --why breakage'],
  flags: [{ name: 'why', takes: 'REASON', says: lossReasons.join(', ') }, by, place],
  run: (context) => {
    const why = lossReasons.find((reason) => reason === flagOf(context, 'why'));
    if (why === undefined) return usageProblem(`A loss needs --why: ${lossReasons.join(', ')}.`);
    const at = flagOf(context, 'place');
    return recordWith(context, (books, moment) => {
      const lost = findAmount(books, context.words.join(' '), {
        example: '50ml "dry gin", or 2 "egg white"',
      });
      if (!lost.ok) return lost;
      return intendLoss(books, {
        ...moment,
        ...lost.value,
        why,
        ...(at === undefined ? {} : { place: at }),
      });
    });
  },
};

/** "6 dry gin", "2 cases of dry gin": how many, as it was written, and of what. */
function countAndName(words: readonly string[]): { count: string; name: string } {
  const text = words.join(' ');
  const held = splitContainers(text);
  if (held !== null && held.rest !== '')
    return {
      count: text
        .slice(0, text.length - held.rest.length)
        .replace(/\s+of\s*$/i, '')
        .trim(),
      name: held.rest,
    };
  const [count = '', ...name] = words;
  return { count, name: name.join(' ') };
}

/** What came at another price than it was ordered at, and the cards that this moves past their target. */
function receiveOrder(context: Context, id: string): ReturnType<typeof recordWith> {
  let told = '';
  return recordWith(
    context,
    (books, moment) => {
      const came = readCame(books, context.words);
      if (!came.ok) return came;
      told = movedByCame(books, came.value);
      return intendReceived(books, id as EventId, came.value, moment);
    },
    () => told,
  );
}

export const receive: Command = {
  name: 'receive',
  usage: [
    'receive N ITEM [--cost MONEY] [--place PLACE] [--by NAME]',
    'receive --order ID [ITEM=N[@COST]]… [--by NAME]',
  ],
  says: 'records containers that came in; the cost of one changes what later pours cost, never earlier ones',
  examples: [
    'receive 6 "dry gin" --cost 18.90',
    'receive 2 cases "dry gin"',
    'receive --order ID "dry gin=6@19.50" rye=0',
  ],
  flags: [
    { name: 'order', takes: 'ID', says: 'an order that came: as ordered but for what is named' },
    { name: 'cost', takes: 'MONEY', says: 'what one container cost' },
    place,
    by,
  ],
  run: (context) => {
    const order = flagOf(context, 'order');
    if (order !== undefined) return receiveOrder(context, order);
    const { count, name } = countAndName(context.words);
    if (count === '' || name === '')
      return usageProblem('Say how many of what, as ullage receive 6 "dry gin", or 2 cases "dry gin".');
    return recordWith(context, (books, moment) => {
      const item = findItem(books, name);
      if (!item.ok) return item;
      const text = flagOf(context, 'cost');
      const costMinor = text === undefined ? null : parseMoney(text, books.house.currency);
      if (text !== undefined && costMinor === null) {
        return refuse(
          'bad-cost',
          numberDoubt(text) ??
            `--cost "${clean(text).slice(0, 20)}" is not an amount of ${books.house.currency}. Write it as 18.90.`,
        );
      }
      const to = flagOf(context, 'place');
      return intendDelivery(books, {
        ...moment,
        item: item.value,
        containers: count,
        costMinor,
        ...(to === undefined ? {} : { place: to }),
      });
    });
  },
};

export const move: Command = {
  name: 'move',
  usage: ['move N ITEM --from PLACE --to PLACE [--by NAME]'],
  says: 'records containers that changed place',
  examples: ['move 1 "dry gin" --from store --to bar'],
  flags: [
    { name: 'from', takes: 'PLACE', says: 'where they stood' },
    { name: 'to', takes: 'PLACE', says: 'where they stand now' },
    by,
  ],
  run: (context) => {
    const { count, name } = countAndName(context.words);
    const [from, to] = [flagOf(context, 'from'), flagOf(context, 'to')];
    if (count === '' || name === '')
      return usageProblem('Say how many of what, as ullage move 1 "dry gin" --from store --to bar.');
    if (from === undefined || to === undefined)
      return usageProblem('A move needs --from and --to. Give both places.');
    return recordWith(context, (books, moment) => {
      const item = findItem(books, name);
      return item.ok ? intendMove(books, { ...moment, item: item.value, containers: count, from, to }) : item;
    });
  },
};

export const count: Command = {
  name: 'count',
  usage: ['count ITEM READING… [--place PLACE] [--by NAME] [--again] [--sure]'],
  says: 'records one count of one item',
  examples: [
    'count "dry gin" 2.7',
    'count "dry gin" 2+350ml',
    'count "dry gin" 2+812g',
    'count "egg white" 14',
  ],
  flags: [
    place,
    by,
    { name: 'again', says: 'a second look at the count just made: both are kept, this one stands' },
    { name: 'sure', says: 'it is so, though it is more than was ever there' },
  ],
  run: (context) => {
    if (context.words.length < 2)
      return usageProblem('Say what was counted and what was found, as ullage count "dry gin" 2.7.');
    const at = flagOf(context, 'place');
    return recordWith(
      context,
      (books, moment) => {
        const { name, reading } = splitReading(context.words, books);
        const item = findItem(books, name);
        if (!item.ok) return item;
        const sure = hasFlag(context, 'sure');
        const wish = { ...moment, item: item.value, reading, again: hasFlag(context, 'again'), sure };
        return intendCount(books, { ...wish, ...(at === undefined ? {} : { place: at }) });
      },
      foundAgainstExpected,
    );
  },
};

/** Names may be several words and readings too ("2 0.4 0.7"): the longest known name wins. */
function splitReading(words: readonly string[], books: Books): { name: string; reading: string } {
  for (let used = words.length - 1; used > 1; used -= 1) {
    const name = words.slice(0, used).join(' ');
    if (findItem(books, name).ok) return { name, reading: words.slice(used).join('+') };
  }
  return { name: words[0] ?? '', reading: words.slice(1).join('+') };
}

/** After the reading is in: what the books expected, and how far off that is. */
function foundAgainstExpected(events: readonly Event[], books: Books): string {
  const [event] = events;
  if (event?.kind !== 'stock-counted') return '';
  const item = books.items.get(event.item);
  const period = books.stock.get(stockKey(event.item, event.place))?.period;
  if (item === undefined || period?.to.event !== event.id)
    return 'First count here: nothing to compare it with yet.';
  const judged = judge([period], item, books.house);
  const said = missingText(judged.missing, judged.uncertainty, shownIn(item), books.house);
  const look = !needsSecondLook(judged, period, item, books)
    ? ''
    : judged.improbable
      ? '\nThat is more than was ever there with what came in, so it is kept as improbable. Look again and count it with --again; add --sure when it is so.'
      : '\nThat is far from what could be there. Look again, and count it with --again.';
  return `Expected ${displayAmount(judged.expected, shownIn(item), books.house)}: ${judged.missing === 0 ? 'nothing missing, ' : ''}${said} (k=2), ${judged.improbable ? 'improbable' : judged.verdict.replaceAll('-', ' ')}.${look}`;
}
