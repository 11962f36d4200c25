// How a station stands with its house, as the rooms show it: from what its last exchange left.
import { epochOf } from '../../domain/value/clock-date.ts';
import type { HouseStanding } from '../../screens/room.ts';
import {
  type ExchangeStatus,
  lackingText,
  type StationFile,
  type StationNotes,
  stationsAway,
} from '../../store/station.ts';

/** The house this station joined; null where it has none. What is wrong with its notes was told when the books were opened. */
export function joinedOf(notes: StationNotes): StationFile | null {
  const joined = notes.joined();
  return joined.ok ? joined.value : null;
}

export function standingOf(
  joined: StationFile | null,
  status: ExchangeStatus | null,
  now: string,
): HouseStanding | null {
  if (joined === null) return null;
  const { station } = joined;
  const { name } = joined.house;
  if (status === null) return { name, station, isInStep: false, waiting: 0, skewMs: 0, away: [] };
  return {
    name,
    station,
    // What was recorded this very moment is on its way; what was heard long ago says nothing of now.
    isInStep: status.problem === null && !isOld(status, now),
    waiting: status.waiting,
    skewMs: status.skewMs,
    away: stationsAway(status, now).map(({ id, name: of, since }) => ({ id, name: of, since })),
  };
}

/** An exchange is due every quarter of a minute. */
const OLD_MS = 90_000;
const isOld = ({ at }: ExchangeStatus, now: string): boolean =>
  at === null || epochOf(now) - epochOf(at) > OLD_MS;

/** Why not everything is exchanged, where somebody can do something about it; that a server is away is told by the head line alone. */
export function outageText({ problem, lacking = [] }: ExchangeStatus): string | null {
  if (problem !== null) return quiet.has(problem.code) ? null : problem.message;
  const [first] = lacking;
  return first === undefined
    ? null
    : `${lackingText(first)}. Keep these books; ullage station says what is to be done.`;
}
const quiet: ReadonlySet<string> = new Set(['server-away', 'not-taken', 'server-gap', 'busy']);
