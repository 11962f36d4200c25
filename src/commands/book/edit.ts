// edit: all cards, all items or who works here, in the editor of this machine; a mistake opens it again with the text kept.
import { readSpecs, writeSpecs } from '../../domain/card/spec-card.ts';
import {
  intendItem,
  intendPersonAdded,
  intendPersonLeft,
  intendSpecs,
} from '../../domain/intent/intend-house.ts';
import { intendEach } from '../../domain/intent/intent.ts';
import { type Books, peopleHere } from '../../domain/ledger/books.ts';
import { describeEvent } from '../../domain/ledger/describe.ts';
import type { EventDraft } from '../../domain/ledger/event.ts';
import { done, type Problem, type Result } from '../../domain/value/problem.ts';
import { clean, foldText } from '../../domain/value/text.ts';
import { readItems, writeItems } from '../../exchange/file/item-csv.ts';
import {
  type Command,
  type Context,
  type Outcome,
  refused,
  say,
  usageProblem,
  withStore,
} from '../line/command.ts';

type Editable = {
  /** What the file is called, so that an editor knows how to show it. */
  readonly file: string;
  readonly write: (books: Books) => string;
  readonly drafts: (text: string, books: Books) => Result<EventDraft[]>;
};

const editables: Readonly<Record<string, Editable>> = {
  specs: {
    file: 'specs.txt',
    write: writeSpecs,
    drafts: (text, books) => {
      const read = readSpecs(text, books);
      return read.ok ? intendSpecs(books, read.value) : read;
    },
  },
  items: {
    file: 'items.csv',
    write: writeItems,
    drafts: (text, books) => {
      const read = readItems(text, books);
      return read.ok ? intendEach(books, read.value, intendItem) : read;
    },
  },
  people: {
    file: 'people.txt',
    write: (books) =>
      peopleHere(books)
        .map(({ name }) => `${name}\n`)
        .join(''),
    drafts: peopleDrafts,
  },
};

/** A name a line: a new one joins, one that is gone has left. */
function peopleDrafts(text: string, books: Books): Result<EventDraft[]> {
  const names = text
    .split(/\r?\n/)
    .map((name) => name.trim())
    .filter((name) => name !== '');
  const here = peopleHere(books);
  const has = (list: readonly string[], name: string): boolean =>
    list.some((one) => foldText(one) === foldText(name));
  const joined = names.filter(
    (name) =>
      !has(
        here.map((person) => person.name),
        name,
      ),
  );
  const left = here.filter(({ name }) => !has(names, name));
  const added = intendEach(books, joined, intendPersonAdded);
  if (!added.ok) return added;
  const gone = intendEach(
    books,
    left.map(({ name }) => name),
    intendPersonLeft,
  );
  return gone.ok ? done([...added.value, ...gone.value]) : gone;
}

/** An editor that gives back the same mistake over and over is left. */
const MOST_TRIES = 50;

export const edit: Command = {
  name: 'edit',
  usage: ['edit specs|items|people'],
  says: 'opens all of them in your editor ($VISUAL, else $EDITOR); what is wrong is named and it opens again, with the text kept',
  examples: ['edit specs'],
  run: (context) => {
    const what = editables[context.words[0] ?? ''];
    if (what === undefined || context.words.length > 1)
      return usageProblem('Say what to edit: specs, items or people.');
    return withStore(context, async (store): Promise<Outcome> => {
      const before = what.write(store.books());
      let text = before;
      for (let tries = 0; tries < MOST_TRIES; tries += 1) {
        const edited = await context.world.edit(text, what.file);
        if (!edited.ok) return refused(edited.problems);
        if (edited.value === before) return say('Nothing was changed.');
        const recorded = store.record((books) => what.drafts(edited.value, books), context.at);
        if (recorded.ok) {
          const books = store.books();
          const lines = recorded.value.map((event) => clean(describeEvent(event, books)));
          return say(lines.length === 0 ? 'Nothing to change.' : lines.join('\n'));
        }
        // Closed without a mend: whoever edits gives it up, and keeps what was typed.
        if (tries > 0 && edited.value === text) return kept(context, what, edited.value, recorded.problems);
        text = edited.value;
        const again = await context.world.tell(
          `${recorded.problems.map(problemText).join('\n')}\nEnter opens it again; close it unchanged to give it up.\n`,
        );
        if (!again) return kept(context, what, edited.value, recorded.problems);
      }
      return kept(context, what, text, []);
    });
  },
};

const problemText = ({ line, message }: Problem): string =>
  `${line === undefined ? '' : `line ${line}: `}${clean(message)}`;

const MOST_KEPT = 99;

/** A name nothing stands under: what was kept before, or is somebody's own, is not written over. */
const freeName = ({ world }: Context, file: string): string | undefined =>
  Array.from({ length: MOST_KEPT }, (_, at) => `ullage${at === 0 ? '' : `-${at + 1}`}-${file}`).find(
    (name) => !world.readFile(name).ok,
  );

/** What was typed is kept in a file, whatever becomes of it. */
function kept(context: Context, { file }: Editable, text: string, problems: readonly Problem[]): Outcome {
  const name = freeName(context, file);
  const written = name === undefined ? null : context.world.writeFile(name, text);
  const where = written?.ok === true ? ` What was typed is kept in ${name}, in this folder.` : '';
  const first = problems[0];
  return refused([
    {
      code: 'not-written',
      exit: 65,
      message: `Nothing was written${first === undefined ? '' : `: ${problemText(first)}`}${where}`,
    },
  ]);
}
