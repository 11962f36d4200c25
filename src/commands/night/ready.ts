// ready: what the station needs before opening, to tick off; made from the specs, edited by hand.

import { intendMiseEdit, intendTick } from '../../domain/intent/intend-mise.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { type MisePart, miseLines } from '../../domain/service/mise.ts';
import { booksNow, type Command, say, sayJson, usageProblem, withStore } from '../line/command.ts';
import { recordWith } from '../line/record.ts';

export const partNames: Readonly<Record<MisePart, string>> = {
  tool: 'tools',
  jigger: 'jiggers for',
  glass: 'glasses',
  ice: 'ice',
  garnish: 'garnishes',
  fresh: 'fresh',
  own: 'added here',
};

export const ready: Command = {
  name: 'ready',
  usage: ['ready', 'ready tick|untick|add|drop LINE'],
  says: "the mise en place of tonight's specs: tools, jiggers, glasses, ice, garnishes, fresh things; ticks last until the seal",
  examples: ['ready tick shaker', 'ready add "bar towels"', 'ready drop "swizzle stick"'],
  run: (context) => {
    const [what, ...words] = context.words;
    const line = words.join(' ');
    if (what === undefined)
      return withStore(context, (store) =>
        context.json ? sayJson(miseLines(booksNow(context, store))) : say(listText(booksNow(context, store))),
      );
    if (line === '' || !['tick', 'untick', 'add', 'drop'].includes(what))
      return usageProblem('Say tick, untick, add or drop, and which line, as ullage ready tick shaker.');
    return recordWith(context, (books, { by }) =>
      what === 'add' || what === 'drop'
        ? intendMiseEdit(books, { line, kept: what === 'add', by })
        : intendTick(books, { line, done: what === 'tick', by }),
    );
  },
};

function listText(books: Books): string {
  const lines = miseLines(books);
  if (lines.length === 0) return 'No spec calls for anything yet. Import spec cards first.';
  const parts = [...new Set(lines.map(({ part }) => part))];
  return parts
    .map((part) => {
      const own = lines.filter((line) => line.part === part);
      return [
        partNames[part],
        ...own.map(
          ({ text, done, specs, late }) =>
            `  ${done === null ? '[ ]' : '[x]'} ${text}${specs > 1 ? `, ${specs} specs` : ''}${late ? ', some past its date' : ''}`,
        ),
      ].join('\n');
    })
    .join('\n');
}
