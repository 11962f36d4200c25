// match, till: what the till's names mean, and what it sold beside what was logged.

import { readStraight } from '../../domain/drink/straight-measure.ts';
import { intendTillName } from '../../domain/intent/intend-till.ts';
import type { Books, TillMeaning } from '../../domain/ledger/books.ts';
import { findSpec } from '../../domain/search/find.ts';
import { nearestNames } from '../../domain/search/nearest.ts';
import { done, type Result } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import { reportNamed } from '../../store/reports.ts';
import { type Command, hasFlag, refused, say, sayJson, usageProblem, withStore } from '../line/command.ts';
import { recordWith } from '../line/record.ts';

export const match: Command = {
  name: 'match',
  usage: ['match NAME SPEC', 'match NAME MEASURE ITEM', 'match NAME --none'],
  says: 'says which spec or straight measure a name of the till means, for all its lines; --none: nothing we pour',
  examples: ['match "LANT SOUR" "lantern sour"', 'match "Gin 1" "25 ml dry gin"', 'match "Tap water" --none'],
  flags: [{ name: 'none', says: 'it is nothing we pour' }],
  run: (context) => {
    const [name, ...spec] = context.words;
    const none = hasFlag(context, 'none');
    if (name === undefined || (spec.length === 0) !== none)
      return usageProblem('Give the name as the till writes it, then a spec, or --none.');
    return recordWith(context, (books, moment) => {
      const meant = none ? done(null) : meantBy(spec.join(' '), books);
      return meant.ok ? intendTillName(books, name, meant.value, moment.by) : meant;
    });
  },
};

/** A spec by its name, else a measure of an item. */
function meantBy(text: string, books: Books): Result<TillMeaning> {
  const spec = findSpec(books, text);
  if (spec.ok) return done(spec.value.id);
  const straight = readStraight(text, books);
  return straight === null ? spec : done({ item: straight.item.id, amount: straight.amount });
}

export const till: Command = {
  name: 'till',
  usage: ['till [SHIFT]'],
  says: 'what the till sold beside what was logged, drink by drink, and what that explains',
  examples: ['till', 'till 2026-11-20'],
  run: (context) =>
    withStore(context, (store) => {
      const reported = reportNamed(store, context.words[0]);
      if (!reported.ok) return refused(reported.problems);
      const { report, books } = reported.value;
      if (context.json) return sayJson(report.till ?? []);
      if (report.till === null)
        return say('No lines of the till lie in that shift. Import them with ullage import FILE.csv.');
      const names = [...books.specs.values()].map((spec) => spec.name);
      const rows = report.till.map((row) => [
        row.drink,
        String(row.sold),
        row.logged === null ? '' : String(row.logged),
        row.difference === null ? '' : String(row.difference),
        row.match === 'unknown'
          ? `which drink?${nearText(row.drink, names)}`
          : row.match === 'not-ours'
            ? 'nothing we pour'
            : '',
      ]);
      const explained = report.items
        .filter((item) => (item.unlogged ?? 0) !== 0)
        .map(
          (item) =>
            `${item.name}: drinks ${(item.unlogged ?? 0) > 0 ? 'sold and not logged' : 'logged and not sold'} take ${Math.abs(item.unlogged ?? 0)} ${item.unit === 'each' ? 'pieces' : item.unit}${item.missing === null ? '' : ` (missing ${item.missing}, ±${item.uncertainty})`}`,
        );
      return say(
        [
          layTable(['drink', '>sold', '>logged', '>difference', ''], rows),
          ...(explained.length === 0 ? [] : ['', ...explained]),
        ].join('\n'),
      );
    }),
};

function nearText(drink: string, names: readonly string[]): string {
  const near = nearestNames(drink, names).slice(0, 2);
  return near.length === 0 ? '' : `; near it: ${near.map((name) => clean(name)).join(', ')}`;
}
