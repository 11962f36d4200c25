// What saying that something is out, or back, would record.

import { type OutThing, outKey } from '../catalogue/out-mark.ts';
import type { Books } from '../ledger/books.ts';
import { outName } from '../ledger/describe.ts';
import type { EventDraft } from '../ledger/event.ts';
import { findItem, findSpec } from '../search/find.ts';
import { servedWords } from '../service/out-by-hand.ts';
import { addDays, instantOfWall, wallTime } from '../value/clock-date.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { firstUnsafe, foldText } from '../value/text.ts';
import { type Moment, moment, shiftAt } from './moment.ts';

export type OutWish = Moment & {
  /** As typed: an item, a card, or a word of glass, ice or garnish. */
  readonly what: string;
  readonly why: string;
  /** "22:30" on the house's wall; null until the seal. */
  readonly until: string | null;
};

/** An item, else a card, else a word of how drinks are served; "no ice" is ice. */
export function outThing(books: Books, text: string): Result<OutThing> {
  const what = text.trim().replace(/^no\s+/i, '');
  const item = findItem(books, what);
  if (item.ok) return done({ item: item.value.id, spec: null, word: null });
  const spec = findSpec(books, what);
  if (spec.ok) return done({ item: null, spec: spec.value.id, word: null });
  if (servedWords(books).includes(foldText(what)))
    return done({ item: null, spec: null, word: foldText(what) });
  return item;
}

export function intendOut(books: Books, wish: OutWish, now: string): Result<EventDraft[]> {
  const thing = outThing(books, wish.what);
  if (!thing.ok) return thing;
  const why = wish.why.trim().replace(/\s+/g, ' ');
  if (why === '' || why.length > 60 || firstUnsafe(why) !== null)
    return refuse(
      'no-why',
      `Say why ${outName(thing.value, books)} is out in 1 to 60 characters, as wilted.`,
    );
  const until = wish.until === null ? done(null) : nextWall(wish.until, now, books.house.zone);
  if (!until.ok) return until;
  const base = moment(wish, shiftAt(books, wish.at), books);
  return done([{ kind: 'marked-out', ...base, ...thing.value, why, until: until.value }]);
}

export function intendBack(books: Books, wish: Moment & { readonly thing: OutThing }): Result<EventDraft[]> {
  if (!books.out.has(outKey(wish.thing)))
    return refuse(
      'not-out',
      `Nobody said that ${outName(wish.thing, books)} is out, so it need not come back.`,
    );
  const { item, spec, word } = wish.thing;
  return done([{ kind: 'marked-back', ...moment(wish, shiftAt(books, wish.at), books), item, spec, word }]);
}

/** The next time the house's wall shows an hour. */
function nextWall(clock: string, now: string, zone: string): Result<string> {
  const time = /^([01]?\d|2[0-3]):[0-5]\d$/.test(clock.trim()) ? clock.trim().padStart(5, '0') : null;
  const { date } = wallTime(now, zone);
  const found =
    time === null
      ? undefined
      : [date, addDays(date, 1)]
          .map((day) => instantOfWall(`${day} ${time}`, zone))
          .find((at) => at !== null && at > now);
  return found === undefined || found === null
    ? refuse('bad-until', `"${clock}" is no time of the clock. Write until 22:30.`)
    : done(found);
}
