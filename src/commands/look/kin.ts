// kin: specs that are one another with a single measure changed; and what to pour when an item is out.

import { kinOf, nearestWithout } from '../../domain/drink/kin/kin.ts';
import { differenceText } from '../../domain/drink/kin/kin-text.ts';
import { usableByItem } from '../../domain/ledger/books.ts';
import { findItem, findSpec } from '../../domain/search/find.ts';
import { clean } from '../../domain/value/text.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import {
  booksNow,
  type Command,
  flagOf,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';

export const kin: Command = {
  name: 'kin',
  usage: ['kin SPEC [--without ITEM]'],
  says: 'specs that differ from one by a single measure; or, when an item is out, the nearest that can be made',
  examples: ['kin negroni', 'kin "lantern sour" --without gin'],
  flags: [{ name: 'without', takes: 'ITEM', says: 'the item that is out' }],
  run: (context) => {
    if (context.words.length === 0) return usageProblem('Name a spec, as ullage kin negroni.');
    return withStore(context, (store) => {
      const books = booksNow(context, store);
      const spec = findSpec(books, context.words.join(' '));
      if (!spec.ok) return refused(spec.problems);
      const out = flagOf(context, 'without');
      if (out !== undefined) {
        const item = findItem(books, out);
        if (!item.ok) return refused(item.problems);
        const near = nearestWithout(spec.value, item.value.id, books, usableByItem(books));
        if (context.json)
          return sayJson(
            near.map((one) => ({
              spec: one.spec.id,
              name: one.spec.name,
              left: one.left,
              distance: Number(one.distance.toFixed(3)),
            })),
          );
        return say(
          near.length === 0
            ? 'Nothing near it can be made now.'
            : layTable(
                ['nearest', 'family', '>left'],
                near.map((one) => [one.spec.name, one.spec.family, String(one.left)]),
              ),
        );
      }
      const list = kinOf(spec.value, books);
      if (context.json)
        return sayJson(
          list.map((one) => ({
            spec: one.spec.id,
            name: one.spec.name,
            difference: differenceText(one.difference, books),
          })),
        );
      if (list.length === 0)
        return say(`No spec differs from ${clean(spec.value.name)} by a single measure.`);
      return say(
        layTable(
          ['kin', 'the one measure that differs'],
          list.map((one) => [one.spec.name, differenceText(one.difference, books)]),
        ),
      );
    });
  },
};
