// What a station knows of its house beside the books: how it gets to the server, and how the last exchange went. Kept with this
// machine's own notes, never in the books: a copy of the books carries no password.
import * as z from 'zod/mini';
import { epochOf, isInstant } from '../domain/value/clock-date.ts';
import type { Result } from '../domain/value/problem.ts';
import type { HouseStation } from './exchange.ts';
import type { Outcome } from './exchange-run.ts';

/** How somebody gets to a server. */
export type Access = {
  readonly host: string;
  readonly port: number;
  readonly database: string;
  readonly user: string;
  readonly password: string;
  /** Certificates in PEM; null for those this machine trusts. */
  readonly authority: string | null;
  /** Plain only on this machine. */
  readonly tls: boolean;
};

const line = z.string().check(z.minLength(1), z.maxLength(255), z.regex(/^[^\p{Cc}]+$/u));
/** The file a station joins with: carried by hand, readable by its owner alone. */
export const stationFileSchema = z.object({
  ullage: z.literal('station'),
  version: z.literal(1),
  house: z.object({ id: z.uuid(), name: line }),
  station: z.string().check(z.regex(/^[a-z0-9][a-z0-9-]{0,39}$/)),
  access: z.object({
    host: line,
    port: z.int().check(z.minimum(1), z.maximum(65_535)),
    database: line,
    user: line,
    password: line,
    authority: z.nullable(z.string().check(z.maxLength(100_000))),
    tls: z.boolean(),
  }),
});
export type StationFile = z.infer<typeof stationFileSchema>;

const instant = z.string().check(z.refine(isInstant));
const stationSchema = z.object({
  id: z.string(),
  name: z.string(),
  resting: z.boolean(),
  behind: z.int(),
  /** When the server heard it last; null when it never did. */
  heardAt: z.nullable(z.string()),
  /** How long that was ago at the exchange, ms. */
  quietMs: z.nullable(z.number()),
});
export const statusSchema = z.object({
  house: z.string(),
  /** The last exchange that ended in step; null when none did yet. */
  at: z.nullable(instant),
  /** Since when none did; null while in step. */
  since: z.nullable(instant),
  /** The last own event that the server is known to hold. */
  confirmed: z.int().check(z.minimum(0)),
  /** Own events that the server does not hold, as of the last look. */
  waiting: z.int().check(z.minimum(0)),
  /** How far this clock is ahead of the server's, ms. */
  skewMs: z.number(),
  problem: z.nullable(z.object({ code: z.string(), message: z.string(), exit: z.number() })),
  stations: z.array(stationSchema),
  /** Names under which books were kept that somebody brought when they joined. */
  brought: z.optional(z.array(z.string())),
  /** Stations of which more stands here than on the server, as of the last exchange. */
  lacking: z.optional(z.array(z.object({ station: z.string(), many: z.int() }))),
});
export type ExchangeStatus = z.infer<typeof statusSchema>;

/** What this machine keeps of the house it joined. */
export type StationNotes = {
  /** How this station gets to its house; null when it never joined one. */
  readonly joined: () => Result<StationFile | null>;
  readonly keepJoined: (file: StationFile) => Result<null>;
  readonly status: () => ExchangeStatus | null;
  readonly keepStatus: (status: ExchangeStatus) => void;
};

/** A station that was not heard for longer than this is not in step. */
export const QUIET_MS = 40_000;

const asKept = ({ id, name, resting, behind, heardAt, quietMs }: HouseStation) => ({
  id,
  name,
  resting,
  behind,
  heardAt,
  quietMs,
});

/** The status after an exchange. */
export function statusAfter(
  before: ExchangeStatus | null,
  { hello, pushed, problem, skewMs, lacking }: Outcome,
  now: string,
  waiting: number,
): ExchangeStatus {
  const stations =
    hello === null
      ? (before?.stations ?? [])
      : hello.stations.filter(({ of, left, mine }) => of === null && !left && !mine).map(asKept);
  const isInStep = problem === null;
  return {
    house: hello?.houseName ?? before?.house ?? '',
    at: isInStep ? now : (before?.at ?? null),
    since: isInStep ? null : (before?.since ?? before?.at ?? now),
    confirmed: Math.max(pushed, isInStep ? 0 : (before?.confirmed ?? 0)),
    waiting,
    skewMs: hello === null ? (before?.skewMs ?? 0) : skewMs,
    problem: problem === null ? null : { code: problem.code, message: problem.message, exit: problem.exit },
    stations,
    brought:
      hello === null
        ? (before?.brought ?? [])
        : hello.stations.filter(({ of }) => of !== null).map(({ id }) => id),
    lacking: isInStep ? [...lacking] : (before?.lacking ?? []),
  };
}

export const isInStep = ({ problem, waiting }: ExchangeStatus): boolean => problem === null && waiting === 0;

/** A station that was not heard for longer than this is out of service. */
const LATELY_MS = 86_400_000;

export type Away = { readonly id: string; readonly name: string; readonly since: string | null };

/**
 * Stations of which something may be missing here: all that were there lately, while the server is away; else those the server has not
 * heard for a while and that did not close their rooms in step.
 */
export function stationsAway({ stations, problem, at }: ExchangeStatus, now: string): readonly Away[] {
  const age = at === null ? 0 : Math.max(0, epochOf(now) - epochOf(at));
  return stations
    .filter(({ resting, behind, heardAt, quietMs }) => {
      if (heardAt === null) return false;
      // Nobody knows who is at work by now: all that were there lately may be.
      if (problem !== null || age > 2 * QUIET_MS) return epochOf(now) - epochOf(heardAt) < LATELY_MS;
      return behind > 0 || (!resting && (quietMs ?? 0) > QUIET_MS);
    })
    .map(({ id, name, heardAt }) => ({ id, name, since: heardAt }));
}

/** The name of books that belong to no house yet; nobody gives a station such a one. */
export const soloName = (eightHex: string): string => `s-${eightHex}`;
export const isSoloName = (name: string): boolean => /^s-[0-9a-f]{8}$/.test(name);

/** The server's data were put back: what that means for this station. */
export const lostText = (many: number): string =>
  `The server had lost ${many} event${many === 1 ? '' : 's'} of this station that it held before: they were sent again. Tell who keeps it.`;

/** Events that only their own station may send, and that the server lacks. */
export const lackingText = ({ station, many }: Outcome['lacking'][number]): string =>
  `Of station ${station} ${many} event${many === 1 ? ' stands' : 's stand'} here that the server has not`;

/** What joins a station to its house, as a text. */
export const stationFileText = (file: StationFile): string => `${JSON.stringify(file, null, 2)}\n`;
