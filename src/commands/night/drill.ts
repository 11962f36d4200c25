// drill: bottles read by eye and then weighed, and what that says of everyone's reading error.

import { eyeError } from '../../domain/count/eye-error.ts';
import { eyeSentence, percent } from '../../domain/count/eye-words.ts';
import { intendComparison } from '../../domain/intent/intend-stock.ts';
import { type Books, personName } from '../../domain/ledger/books.ts';
import { findItem } from '../../domain/search/find.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import { type Command, say, sayJson, usageProblem, withStore } from '../line/command.ts';
import { recordWith } from '../line/record.ts';

export const drill: Command = {
  name: 'drill',
  usage: ['drill', 'drill ITEM EYE GRAMS [--by NAME]'],
  says: 'reads a bottle by eye and weighs it, to learn how exact the eye is; alone: what was learned so far',
  examples: ['drill "dry gin" 0.7 812g --by Ines'],
  flags: [{ name: 'by', takes: 'NAME', says: 'whose eye' }],
  run: (context) => {
    if (context.words.length === 0)
      return withStore(context, (store) => learned(context.json, store.books()));
    if (context.words.length < 3)
      return usageProblem(
        'Say which bottle, what the eye says and what the scale says, as ullage drill "dry gin" 0.7 812g.',
      );
    const [eye = '', weighed = ''] = context.words.slice(-2);
    return recordWith(
      context,
      (books, moment) => {
        const item = findItem(books, context.words.slice(0, -2).join(' '));
        return item.ok ? intendComparison(books, { ...moment, item: item.value, eye, weighed }) : item;
      },
      ([event], books) =>
        event === undefined ? '' : eyeSentence(eyeError(books, event.by), event.by, books),
    );
  },
};

function learned(json: boolean, books: Books) {
  const who = [...books.people.values()].filter(({ here }) => here).map(({ id }) => id);
  const rows = (who.length === 0 ? [null] : who).map((id) => ({ id, error: eyeError(books, id) }));
  if (json)
    return sayJson(
      rows.map(({ id, error }) => ({
        person: id,
        sharePercent: error.share * 100,
        biasPercent: error.bias === null ? null : error.bias * 100,
        pairs: error.pairs,
        from: error.from,
      })),
    );
  const words = { own: 'own pairs', house: 'pairs of the house', assumed: 'assumed' };
  return say(
    layTable(
      ['person', '>pairs', '>one reading', 'by'],
      rows.map(({ id, error }) => [
        personName(books, id) ?? 'nobody named',
        String(books.eyes.get(id ?? '')?.pairs ?? 0),
        `±${percent(error.share)}`,
        words[error.from],
      ]),
    ),
  );
}
