// Questions answered in words: a note, a correction of a sealed report, what a name of the till means.

import type { Spec } from '../../domain/catalogue/spec.ts';
import { splitSigned } from '../../domain/catalogue/units.ts';
import { intendCorrection, intendNote } from '../../domain/intent/intend-remark.ts';
import { intendTillName } from '../../domain/intent/intend-till.ts';
import type { Intent } from '../../domain/intent/intent.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { type Correctable, correctable } from '../../domain/ledger/event.ts';
import { closingReport } from '../../domain/report/closing.ts';
import { specIndex } from '../../domain/search/house-search.ts';
import { nearestNames, searchIndex } from '../../domain/search/search.ts';
import type { PersonId } from '../../domain/value/ids.ts';
import { done, refuse } from '../../domain/value/problem.ts';
import type { Dialog } from '../../screens/room.ts';

type Words = Extract<Dialog, { kind: 'words' }>;

const NOT_OURS = 'nothing we pour by a spec';
const figures: readonly Correctable[] = correctable.options;
const figureWords: Readonly<Record<Correctable, string>> = {
  received: 'received: a delivery was not entered, or too much',
  poured: 'poured: drinks not logged, or logged twice',
  lost: 'lost: a spill or breakage not entered',
  counted: 'counted: the reading was wrong by so much',
};
const MOST_SPECS = 12;

let lastNear: { specs: Books['specs']; subject: string; names: readonly string[] } | null = null;

/** Names near one of the till's; asked with every key of the question, and the same as long as the cards are. */
function nearTo({ specs }: Books, subject: string): readonly string[] {
  if (lastNear?.specs === specs && lastNear.subject === subject) return lastNear.names;
  const names = nearestNames(
    subject,
    [...specs.values()].map(({ name }) => name),
  );
  lastNear = { specs, subject, names };
  return names;
}

/** Specs a name of the till may mean: what is typed, else what is near the name itself. */
function specsFor(books: Books, { subject, text }: Words): Spec[] {
  const near = nearTo(books, subject);
  const byName = near.flatMap((name) => [...books.specs.values()].find((spec) => spec.name === name) ?? []);
  const found = searchIndex(specIndex(books), text, (spec) => books.habit.get(spec.id) ?? 0);
  const list = text.trim() === '' ? [...byName, ...found.filter((spec) => !byName.includes(spec))] : found;
  return list.slice(0, MOST_SPECS);
}

/** What ↑↓ choose between. */
export function wordsChoices(books: Books, words: Words): readonly string[] {
  if (words.what === 'correct') return figures.map((figure) => figureWords[figure]);
  if (words.what === 'match') {
    const names = specsFor(books, words).map(({ name }) => name);
    // Only an empty field offers "nothing": a filter that finds nothing must not mean it.
    return words.text.trim() === '' ? [...names, NOT_OURS] : names;
  }
  return [];
}

export function wordsQuestion(books: Books, words: Words): { title: string; hint: string; foot: string } {
  const known = books.items.get(words.subject as never);
  const [item, unit] = [known?.name ?? words.subject, known?.unit ?? 'ml'];
  const end = 'Enter writes it, Esc goes back.';
  if (words.what === 'note')
    return {
      title: `A note on this shift${words.subject === '' ? '' : `, on ${item}`}:`,
      hint: '',
      foot: end,
    };
  if (words.what === 'correct')
    return {
      title: `Correct ${item} in this sealed report: how much, and how it came to be known. Both figures stay in sight; today's stock is not touched.`,
      hint: `${unit === 'each' ? '6' : '700 ml'} delivery note found; − for less`,
      foot: `↑↓ choose which figure. ${end}`,
    };
  return {
    title: `What is "${words.subject}" of the till?`,
    hint: 'type to find a spec',
    foot: `↑↓ choose. ${end}`,
  };
}

/** What Enter wants recorded. A choice is the one that stands marked on the screen, whatever another window does meanwhile. */
export function wordsIntent(shown: Books, words: Words): Intent {
  const choice = wordsChoices(shown, words)[words.choice];
  const spec = words.what === 'match' ? specsFor(shown, words)[words.choice] : undefined;
  return (books) => {
    const by = books.shift?.pouring ?? null;
    if (words.what === 'note') {
      const item = books.items.get(words.subject as never) ?? null;
      return intendNote(books.shift?.id ?? null, { text: words.text, item, by });
    }
    if (words.what === 'match') {
      if (choice === undefined)
        return refuse('unknown-spec', `No spec is called "${words.text.trim()}". Erase a letter or two.`);
      return intendTillName(books, words.subject, spec?.id ?? null, by);
    }
    return correction(books, words, by);
  };
}

function correction(books: Books, words: Words, by: PersonId | null) {
  const item = books.items.get(words.subject as never);
  const report = closingReport(books);
  if (item === undefined || report === null)
    return refuse('unknown-item', 'That item is gone. Press Esc and choose another.');
  const split = splitSigned(words.text, books.house);
  if (split === null || split.unit !== item.unit)
    return refuse(
      'bad-amount',
      `Write the amount first, then why: ${item.unit === 'each' ? '2' : '700 ml'} delivery note found.`,
    );
  const result = intendCorrection(report, {
    item,
    what: figures[words.choice] ?? 'received',
    amount: split.amount,
    why: split.rest,
    by,
  });
  return result.ok ? done(result.value) : result;
}
