// out: the 86 list, and which specs go with it; saying by hand that something is out, or back.
import { displayAmount, shownIn } from '../../domain/catalogue/display.ts';
import { intendBack, intendOut, outThing } from '../../domain/intent/intend-out.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { outName } from '../../domain/ledger/describe.ts';
import { markedOut, outText, stoppedBy } from '../../domain/service/out-by-hand.ts';
import { outList } from '../../domain/service/out-list.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import {
  booksNow,
  type Command,
  flagOf,
  momentOf,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';
import { recordWith } from '../line/record.ts';

export const out: Command = {
  name: 'out',
  usage: ['out', 'out mark WHAT --why TEXT [--until HH:MM] [--by NAME]', 'out back WHAT [--by NAME]'],
  says: 'what is out (86), and which specs go with it; says by hand that something is out or back',
  examples: [
    'out mark mint --why wilted',
    'out mark ice --why "machine down" --until 23:00',
    'out back mint',
  ],
  flags: [
    { name: 'why', takes: 'TEXT', says: 'why it is out' },
    { name: 'until', takes: 'HH:MM', says: 'when it is back by itself; else with the seal, or by hand' },
    { name: 'by', takes: 'NAME', says: 'who says so' },
  ],
  run: (context) => {
    const [what, ...words] = context.words;
    const name = words.join(' ');
    if (what === undefined)
      return withStore(context, (store) => {
        const now = momentOf(context);
        return context.json
          ? sayJson(outJson(booksNow(context, store), now))
          : say(outListText(booksNow(context, store), now));
      });
    if (name === '' || (what !== 'mark' && what !== 'back'))
      return usageProblem('Say mark or back, and what, as ullage out mark mint --why wilted.');
    return recordWith(context, (books, moment, now) => {
      if (what === 'mark')
        return intendOut(
          books,
          {
            ...moment,
            what: name,
            why: flagOf(context, 'why') ?? '',
            until: flagOf(context, 'until') ?? null,
          },
          now,
        );
      const thing = outThing(books, name);
      return thing.ok ? intendBack(books, { ...moment, thing: thing.value }) : thing;
    });
  },
};

/** Those by hand first; an entry of the books' own has no `why`. */
function outJson(books: Books, now: string) {
  return [
    ...markedOut(books, now).map((mark) => ({
      item: mark.item,
      spec: mark.spec,
      word: mark.word,
      name: outName(mark, books),
      why: mark.why,
      until: mark.until,
      out: true,
      specs: stoppedBy(mark, books).map(({ id, name }) => ({ spec: id, name })),
    })),
    ...outList(books).map(({ item, left, isOut, isUnknown, specs }) => ({
      item: item.id,
      name: item.name,
      left: left / 1000,
      unit: item.unit,
      out: isOut,
      known: !isUnknown,
      specs: specs.map(({ id, name }) => ({ spec: id, name })),
    })),
  ];
}

function outListText(books: Books, now: string): string {
  const marks = markedOut(books, now).map((mark) => {
    const specs = stoppedBy(mark, books).map(({ name }) => name);
    return `${outText(mark, books)}${specs.length === 0 ? '' : `; with it ${specs.join(', ')}`}`;
  });
  const list = outList(books);
  if (list.length + marks.length === 0) return 'Nothing is out: every spec can be poured.';
  if (list.length === 0) return marks.join('\n');
  const table = layTable(
    ['item', '>left', '', 'specs that go with it'],
    list.map(({ item, left, isOut, isUnknown, specs }) => [
      item.name,
      displayAmount(left, shownIn(item), books.house),
      isUnknown ? 'never counted' : isOut ? 'out' : 'too little',
      specs.map(({ name }) => name).join(', '),
    ]),
  );
  return [...marks, ...(marks.length === 0 ? [] : ['']), table].join('\n');
}
