// Keys per drink, Enter included: the fewest letters that put each drink of the demo's nights on top, with the books as
// they were at that moment. Against the entropy of the same drinks in keys of 26 letters, the floor of any typing.
import { readFileSync } from 'node:fs';
import { type Books, emptyBooks } from '../../src/domain/ledger/books.ts';
import { compareEvents, type Event } from '../../src/domain/ledger/event.ts';
import { foldInOrder } from '../../src/domain/ledger/ledger.ts';
import type { SpecId } from '../../src/domain/value/ids.ts';
import { currentChoices, letterOf } from '../../src/screens/pour/model.ts';
import { readEventText } from '../support/event-text.ts';
import { figure, median } from './measure.ts';
import type { Figure } from './run.ts';

/** Letters a person would type: the name from its start, its words' starts, or ↓ on the empty line. */
function keysFor(books: Books, spec: string, name: string): number {
  const top = currentChoices(books, { query: '' }).findIndex(
    (choice) => choice.kind === 'spec' && choice.spec.id === spec,
  );
  let best = top >= 0 ? top + 1 : Number.POSITIVE_INFINITY;
  const words = name.toLowerCase().split(' ');
  // The letter that the list shows before a name on an empty line.
  const letter = letterOf(books).get(spec as SpecId) ?? '';
  const typed = [letter, name.toLowerCase(), ...words.slice(1), words.map((word) => word[0]).join('')];
  for (const text of typed) {
    for (let length = 1; length <= text.length && length < best; length += 1) {
      const [first] = currentChoices(books, { query: text.slice(0, length) });
      if (first?.kind === 'spec' && first.spec.id === spec) best = length;
    }
  }
  return best;
}

export function drinkKeys(events: readonly Event[], from: string): number[] {
  let books = emptyBooks;
  const keys: number[] = [];
  for (const event of events) {
    if (event.kind === 'drink-poured' && event.at >= from)
      keys.push((keysFor(books, event.spec, event.name) + (event.count > 1 ? 1 : 0) + 1) / event.count);
    books = foldInOrder(books, [event]);
  }
  return keys;
}

export function keysPerDrinkBench(): Figure[] {
  const read = readEventText(readFileSync(new URL('../../data-demo/events.jsonl', import.meta.url), 'utf8'));
  if (!read.ok) throw new Error('the demo cannot be read');
  const events = [...read.value.events].sort(compareEvents);
  const last = events.findLast((event) => event.kind === 'shift-opened')?.at ?? '';
  const poured = new Map<string, number>();
  for (const event of events)
    if (event.kind === 'drink-poured') poured.set(event.spec, (poured.get(event.spec) ?? 0) + 1);
  const total = [...poured.values()].reduce((a, b) => a + b, 0);
  const entropy =
    [...poured.values()].reduce((sum, count) => sum - (count / total) * Math.log2(count / total), 0) /
    Math.log2(26);
  const night = drinkKeys(events, last);
  const weeks = drinkKeys(events, '');
  const mean = weeks.reduce((a, b) => a + b, 0) / weeks.length;
  return [
    figure("median keys per drink, the demo's last night", median(night), 'keys'),
    figure(
      "mean keys per drink, the demo's four weeks, against the entropy of the drinks",
      mean,
      'keys',
      entropy,
    ),
  ];
}
