// What came after the seal of a night, where several stations keep one house: kept and shown beside it, as corrections are. The
// sealed figures never change; both are shown.
import type { Books } from '../ledger/books.ts';
import type { Event, LoggedEvent } from '../ledger/event.ts';
import type { CameAfter, Report } from './report.ts';

const isPour = (event: Event): boolean => event.kind === 'drink-poured' || event.kind === 'measure-poured';
const soldBy = (event: Event): number =>
  (event.kind === 'drink-poured' || event.kind === 'measure-poured') && event.as === 'sale'
    ? (event.priceMinor ?? 0) * event.count
    : 0;
const countOf = (event: Event): number =>
  event.kind === 'drink-poured' || event.kind === 'measure-poured' ? event.count : 0;

/**
 * `events` are what the seal did not see, in order; `then` is the same report with all of it known. Null when nothing came that
 * says anything of the night.
 */
export function cameAfterOf(
  report: Report,
  events: readonly LoggedEvent[],
  then: Report | null,
  books: Books,
): CameAfter | null {
  // What came late and was taken back late was never in any figure.
  const late = new Set(events.map(({ event }) => event.id));
  const standing = events.flatMap(({ event, takenBack }) =>
    takenBack || (event.kind === 'event-taken-back' && late.has(event.target)) ? [] : [event],
  );
  if (standing.length === 0) return null;
  const poured = standing.filter(isPour);
  return {
    drinks: poured.reduce((sum, event) => sum + countOf(event), 0),
    soldMinor: poured.reduce((sum, event) => sum + soldBy(event), 0),
    takenBack: standing.filter(({ kind }) => kind === 'event-taken-back').length,
    counts: standing.filter(({ kind }) => kind === 'stock-counted').length,
    sealedAgain: standing.flatMap(({ kind, station, at, id }) =>
      kind === 'shift-sealed' ? [{ station, at, seal: id }] : [],
    ),
    others: standing.filter(
      (event) =>
        !isPour(event) &&
        !['event-taken-back', 'stock-counted', 'shift-opened', 'shift-sealed'].includes(event.kind),
    ).length,
    stations: [...new Set(standing.map(({ station }) => station))].sort(),
    items: then === null ? [] : otherMissing(report, then, books),
  };
}

/** Rows whose figure would be another one. */
function otherMissing(report: Report, then: Report, books: Books): CameAfter['items'] {
  const known = new Map(then.items.map((row) => [row.item, row]));
  return report.items.flatMap((row) => {
    const other = known.get(row.item);
    if (row.missing === null || other === undefined || other.missing === null) return [];
    const earlierThen = other.earlier.filter(
      (one) => !row.earlier.some(({ from, to }) => from === one.from && to === one.to),
    );
    if (row.missing === other.missing && earlierThen.length === 0) return [];
    const { item, unit, pieces, missing, uncertainty } = row;
    return [
      {
        item,
        name: books.items.get(item)?.name ?? row.name,
        unit,
        pieces,
        missing,
        uncertainty: uncertainty ?? 0,
        missingThen: other.missing,
        uncertaintyThen: other.uncertainty ?? 0,
        earlierThen: earlierThen.map(({ from, to, missing: gone, uncertainty: ofIt }) => ({
          from,
          to,
          missing: gone,
          uncertainty: ofIt,
        })),
      },
    ];
  });
}
