// What runs out next: few drinks left of it, soon at tonight's pace, or before the end of a usual night of this weekday.

import type { Books } from '../../domain/ledger/books.ts';
import { LOW_DRINKS, levelsOf } from '../../domain/service/levels.ts';
import { type OutBy, outBy } from '../../domain/service/pace.ts';
import { outOnUsual, type Usual, type UsualOut } from '../../domain/service/usual.ts';
import { clockText, epochOf } from '../../domain/value/clock-date.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { shortName, usableNow } from '../format.ts';

/** Items that tonight's pace, or a usual night, empties within these hours are worth a word. */
const SOON_HOURS = 2;
const MOST = 4;

/** One line of text; worked out once a minute for each state of the stock, because every frame asks. */
export const runningLow = memoBy(
  (books: Books, now: string, usual: Usual | null) => [books, now.slice(0, 16), usual],
  lowText,
);

function lowText(books: Books, now: string, usual: Usual | null): string {
  const { zone } = books.house;
  const soon = new Map(outBy(books, now, SOON_HOURS).map((one) => [one.item.id, one]));
  const until = epochOf(now) + SOON_HOURS * 3_600_000;
  const usually = new Map(
    (usual === null ? [] : outOnUsual(books, usual, now))
      .filter(({ about }) => epochOf(about) <= until)
      .map((one) => [one.item.id, one]),
  );
  // What was never counted nor delivered is unknown, not out: it would only hide what is running low.
  const expected = usableNow(books);
  return levelsOf(books)
    .filter(({ item }) => expected.has(item.id))
    .filter(
      ({ item, place, drinksLeft: left }) =>
        place === item.place &&
        left !== null &&
        (left <= LOW_DRINKS || soon.has(item.id) || usually.has(item.id)),
    )
    .sort((a, b) => (a.drinksLeft ?? 0) - (b.drinksLeft ?? 0))
    .slice(0, MOST)
    .map(({ item, drinksLeft: left }) =>
      left === 0
        ? `${shortName(item)} out`
        : `${shortName(item)} ${left} drink${left === 1 ? '' : 's'}${whenText(soon.get(item.id), usually.get(item.id), zone)}`,
    )
    .join(' · ');
}

/** Tonight's own pace says more than other nights; these speak while tonight is young. */
function whenText(pace: OutBy | undefined, usual: UsualOut | undefined, zone: string): string {
  const at = (instant: string): string => clockText(instant, zone);
  if (pace !== undefined) return `, out about ${at(pace.about)} (${at(pace.earliest)} to ${at(pace.latest)})`;
  if (usual === undefined) return '';
  const latest = usual.latest === null ? 'not at all' : at(usual.latest);
  return `, on a usual ${usual.weekday} out about ${at(usual.about)} (${at(usual.earliest)} to ${latest})`;
}
