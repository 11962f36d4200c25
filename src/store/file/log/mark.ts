// A mark of the books: the last event of every station with the beginning of its hash. Whoever keeps it can prove later that
// nothing up to there was changed, taken out or cut off: the hash chain alone can't, because it can be computed anew.
import type { Rows } from './rows.ts';

/** 64 of SHA-256's 256 bits: nobody makes other events to a given mark. */
const DIGITS = 16;

/** "s-1a2b3c4d:1042:9f3a61c0d2e4b7a1", several joined by a comma. Of empty books: "none". */
export const markOf = (rows: Rows): string =>
  rows
    .heads()
    .map(({ station, seq, hash }) => `${station}:${seq}:${hash.slice(0, DIGITS)}`)
    .join(',') || 'none';

const part = new RegExp(`^([a-z0-9][a-z0-9-]{0,39}):(\\d{1,15}):([0-9a-f]{${DIGITS}})$`);

/** Whether a text is a mark at all. */
export const isMark = (text: string): boolean =>
  text === 'none' || text.split(',').every((one) => part.test(one));

/** What speaks against the books being those of the mark, or their continuation; one line a station. */
export function markFindings(rows: Rows, mark: string): string[] {
  if (mark === 'none') return [];
  return mark.split(',').flatMap((one) => {
    const [, station = '', seq = '', digits = ''] = part.exec(one) ?? [];
    const hash = rows.hashOf({ at: '', station, seq: Number(seq) });
    if (hash === null && rows.lastOfStation(station).seq === 0)
      return [
        `The mark is of station ${station}, of which nothing stands in these books. Is it the mark of others?`,
      ];
    if (hash === null)
      return [
        `The mark names event ${seq} of station ${station}, which is not there: the end of the books was cut off. Restore a copy from after the mark.`,
      ];
    return hash.startsWith(digits)
      ? []
      : [
          `Event ${seq} of station ${station} is not the one of the mark: something up to there was changed. Restore a copy from before.`,
        ];
  });
}
