// Questions answered in words: a note, a correction of a sealed report, what a name of the till means.

import { amountFor, piecesAmount } from '../../domain/catalogue/container-words.ts';
import type { Item } from '../../domain/catalogue/item.ts';
import type { Spec } from '../../domain/catalogue/spec.ts';
import { splitSigned } from '../../domain/catalogue/units.ts';
import { choicesOf as pourChoices } from '../../domain/drink/pour-choice.ts';
import { intendCorrection, intendNote } from '../../domain/intent/intend-remark.ts';
import { intendTillName } from '../../domain/intent/intend-till.ts';
import type { Intent } from '../../domain/intent/intent.ts';
import type { Books, TillMeaning } from '../../domain/ledger/books.ts';
import { type Correctable, correctable } from '../../domain/ledger/event.ts';
import { closingReport } from '../../domain/report/closing.ts';
import type { Report } from '../../domain/report/report.ts';
import { specIndex } from '../../domain/search/house-search.ts';
import { nearestNames } from '../../domain/search/nearest.ts';
import { readRound } from '../../domain/search/pour-text.ts';
import { searchIndex } from '../../domain/search/search.ts';
import type { ItemId, PersonId } from '../../domain/value/ids.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { numberDoubt } from '../../domain/value/number.ts';
import { refuse } from '../../domain/value/problem.ts';
import type { Asked, DialogOf } from '../../screens/dialog.ts';
import { askedLines } from '../../screens/frame/dialog-view.ts';
import type { AppState } from '../state.ts';
import { asks, field, isMove, moved, only, type Question } from './question.ts';

type Words = DialogOf<'words'>;

const NOT_OURS = 'nothing we pour';
const figures: readonly Correctable[] = correctable.options;
const figureWords: Readonly<Record<Correctable, string>> = {
  received: 'received: a delivery was not entered, or too much',
  poured: 'poured: drinks not logged, or logged twice',
  lost: 'lost: a spill or breakage not entered',
  counted: 'counted: the reading was wrong by so much',
};
const MOST_SPECS = 12;

/** Names near one of the till's; asked with every key of the question, and the same as long as the cards are. */
const nearTo = memoBy(
  ({ specs }: Books, drink: string) => [specs, drink],
  ({ specs }, drink): readonly string[] =>
    nearestNames(
      drink,
      [...specs.values()].map(({ name }) => name),
    ),
);

type Meaning = { readonly name: string; readonly means: TillMeaning };
const nothing: Meaning = { name: NOT_OURS, means: null };
const ofSpec = ({ name, id }: Spec): Meaning => ({ name, means: id });

/** A drink or a straight measure, as the Pour room would read it. */
const typedMeanings = memoBy(
  (books: Books, text: string) => [books, text],
  (books, text): readonly Meaning[] => {
    const [part] = readRound(text, books);
    if (part === undefined) return [];
    const weight = ({ id }: Spec): number => books.habit.get(id) ?? 0;
    return pourChoices(part, books, { weight, expected: () => new Map() })
      .slice(0, MOST_SPECS)
      .map((choice) =>
        choice.kind === 'spec'
          ? ofSpec(choice.spec)
          : {
              name: `${choice.text} ${choice.item.name}, straight`,
              means: { item: choice.item.id, amount: choice.amount },
            },
      );
  },
);

/** What a name of the till may mean. */
function meaningsFor(books: Books, drink: string, text: string): readonly Meaning[] {
  // Only an empty field offers "nothing": a filter that finds nothing must not mean it.
  if (text.trim() !== '') return typedMeanings(books, text);
  const found = searchIndex(specIndex(books), text, (spec) => books.habit.get(spec.id) ?? 0);
  const near = nearTo(books, drink).flatMap(
    (name) => [...books.specs.values()].find((spec) => spec.name === name) ?? [],
  );
  const others = found.filter((spec) => !near.includes(spec));
  // Where nothing is near, crisps are no cocktail: what is marked first must not be the one that is poured most.
  return near.length === 0
    ? [nothing, ...others.slice(0, MOST_SPECS).map(ofSpec)]
    : [...[...near, ...others].slice(0, MOST_SPECS).map(ofSpec), nothing];
}

/** What ↑↓ choose between. */
function choicesOf(books: Books, { asked, text }: Words): readonly string[] {
  if (asked.what === 'correct') return figures.map((figure) => figureWords[figure]);
  if (asked.what === 'note') return [];
  return meaningsFor(books, asked.drink, text).map(({ name }) => name);
}

function titleOf(books: Books, asked: Asked): { title: string; hint: string; foot: string } {
  const end = 'Enter writes it, Esc goes back.';
  if (asked.what === 'match')
    return {
      title: `What is "${asked.drink}" of the till?`,
      hint: 'type to find a drink, or a measure: 25 ml gin',
      foot: `↑↓ choose. ${end}`,
    };
  const item = asked.item === null ? undefined : books.items.get(asked.item);
  const name = item?.name ?? asked.item;
  if (asked.what === 'note')
    return { title: `A note on this shift${name === null ? '' : `, on ${name}`}:`, hint: '', foot: end };
  return {
    title: `Correct ${name} in this sealed report: how much, and how it came to be known. Both figures stay in sight; today's stock is not touched.`,
    hint: `${item === undefined ? '' : correctionExample(item)} delivery note found; − for less`,
    foot: `↑↓ choose which figure. ${end}`,
  };
}

/** A list that the text filters begins at its top again; one that it does not stays where it was. */
const keptChoice = ({ asked, choice }: Words): Partial<Words> => ({
  choice: asked.what === 'match' ? 0 : choice,
});

export const words: Question<'words'> = {
  ask: ({ books }, dialog, size) => {
    const { title, hint, foot } = titleOf(books, dialog.asked);
    const options = choicesOf(books, dialog);
    return askedLines(
      { title, field: { text: dialog.text, hint }, options, cursor: dialog.choice, foot },
      size,
    );
  },
  ...field<Words>(300, keptChoice),
  waits: true,
  key: (state, dialog, key) => {
    if (isMove(key)) {
      const choice = moved(key, dialog.choice, choicesOf(state.books, dialog).length, 5);
      return only({ ...state, dialog: { ...dialog, choice } });
    }
    return key === 'enter' ? asks(state, wordsIntent(state, dialog)) : null;
  },
};

/** What Enter wants recorded. A choice is the one that stands marked on the screen, whatever another window does meanwhile. */
function wordsIntent({ books: shown, past }: AppState, { asked, text, choice }: Words): Intent {
  if (asked.what === 'match') return matchIntent(shown, asked.drink, text, choice);
  // A sealed report does not change, so the one that is shown is the one that is corrected.
  const sealed = asked.shift !== undefined && past?.shift.id === asked.shift ? past : null;
  return (books) => {
    const by = books.shift?.pouring ?? null;
    if (asked.what === 'correct') return correction(books, sealed, asked.item, { text, choice, by });
    const item = asked.item === null ? null : (books.items.get(asked.item) ?? null);
    return intendNote(asked.shift ?? books.shift?.id ?? null, { text, item, by });
  };
}

function matchIntent(shown: Books, drink: string, text: string, choice: number): Intent {
  const meant = meaningsFor(shown, drink, text)[choice];
  return (books) =>
    meant === undefined
      ? refuse('unknown-spec', `Nothing is called "${text.trim()}". Erase a letter or two.`)
      : intendTillName(books, drink, meant.means, books.shift?.pouring ?? null);
}

const correctionExample = (item: Item): string => (piecesAmount(item, 1000) === null ? '700 ml' : '6');

function correction(
  books: Books,
  sealed: Report | null,
  id: ItemId,
  { text, choice, by }: Pick<Words, 'text' | 'choice'> & { readonly by: PersonId | null },
) {
  const item = books.items.get(id);
  const report = sealed ?? closingReport(books);
  if (item === undefined || report === null)
    return refuse('unknown-item', 'That item is gone. Press Esc and choose another.');
  const split = splitSigned(text, books.house);
  const amount = split === null ? null : amountFor(item, split);
  if (split === null || amount === null)
    return refuse(
      'bad-amount',
      numberDoubt(text) ??
        `Write the amount first, then why: ${correctionExample(item)} delivery note found.`,
    );
  const what = figures[choice] ?? 'received';
  return intendCorrection(report, { item, what, amount, why: split.rest, by });
}
