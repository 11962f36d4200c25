// The exchange of one station with the house's server, as a machine without a network: what came in, what is to be done next. First
// what the others wrote, in the order in which it got there, then what the server lacks of this station; its own events first of
// all when the file here was put back to an older one. Every step may be repeated: a line is known by its station and number.
import { epochOf } from '../domain/value/clock-date.ts';
import type { Problem, Result } from '../domain/value/problem.ts';

/** An event of a station with its place in that station's chain. */
export type SharedRow = {
  readonly station: string;
  readonly seq: number;
  /** The canonical text that the hash is of. */
  readonly body: string;
  readonly hash: string;
};

export type Head = { readonly station: string; readonly seq: number; readonly hash: string };

/** The books, as an exchange needs them. */
export type SharedBooks = {
  readonly heads: () => Result<readonly Head[]>;
  readonly rowsAfter: (station: string, seq: number, most: number) => Result<readonly SharedRow[]>;
  readonly hashAt: (station: string, seq: number) => Result<string | null>;
  /** All of them or none; how many were new. */
  readonly takeIn: (rows: readonly SharedRow[]) => Result<number>;
  /** Another file stands in the place of this one. */
  readonly isReplaced: () => boolean;
  readonly close: () => void;
};

/** One station of the house as the server knows it. */
export type HouseStation = {
  readonly id: string;
  readonly name: string;
  /** The station that wrote its books under this name before it joined; null for one of the house. */
  readonly of: string | null;
  /** Its events are sent from here. */
  readonly mine: boolean;
  /** It closed its rooms when nothing of it waited. */
  readonly resting: boolean;
  /** So many of its events it was heard to have that the server has not. */
  readonly behind: number;
  /** The last of its events that another station was heard to have while the server had it not, and which one that was. */
  readonly known: number;
  readonly knownBy: string | null;
  /** Its access was ended. */
  readonly left: boolean;
  /** Since when nothing was heard of it, ms; null when nothing ever was. */
  readonly quietMs: number | null;
  readonly heardAt: string | null;
  /** The last event the server holds of it; 0 for none. */
  readonly seq: number;
  /** The server's hash of the last event that both sides hold of it; null when there is none. */
  readonly hash: string | null;
  /** Where the first event that this side lacks stands in the order of arrival; null when it lacks none. */
  readonly next: number | null;
};

/** The server's answer to a greeting. */
export type Hello = {
  readonly now: string;
  readonly house: string;
  readonly houseName: string;
  readonly station: string;
  readonly channel: string;
  readonly version: number;
  readonly arrived: number;
  readonly stations: readonly HouseStation[];
  /** Settings of the server under which what it confirmed may be lost. */
  readonly unsafe: readonly string[];
};

export type Arrived = SharedRow & { readonly arrived: number };
/** What the server holds of this station after a push. */
export type Pushed = { readonly seq: number; readonly hash: string };

export type ExchangeEffect =
  | { readonly do: 'read-heads' }
  | { readonly do: 'greet'; readonly heads: Readonly<Record<string, number>> }
  /** Does what both sides hold mean the same? */
  | { readonly do: 'compare'; readonly held: readonly Head[] }
  | { readonly do: 'pull'; readonly after: number }
  | { readonly do: 'take-in'; readonly rows: readonly Arrived[] }
  | { readonly do: 'read-own'; readonly station: string; readonly after: number }
  | { readonly do: 'push'; readonly rows: readonly SharedRow[] }
  | { readonly do: 'end'; readonly outcome: Exchanged };

/** What an exchange came to. */
export type Exchanged = {
  readonly hello: Hello | null;
  /** How many events came in, and how many went out. */
  readonly taken: number;
  readonly sent: number;
  /** Events of this station that the server had confirmed before and has no more. */
  readonly lostThere: number;
  /** Stations of which more stands here than on the server, though their events are not sent from here. */
  readonly lacking: readonly { readonly station: string; readonly many: number }[];
  /** The last own event that the server is known to hold. */
  readonly pushed: number;
  /** What stopped it; null when everything is in step. */
  readonly problem: Problem | null;
};

export type ExchangeInput =
  | { readonly came: 'heads'; readonly heads: readonly Head[] }
  | { readonly came: 'hello'; readonly hello: Hello }
  /** The first station of which the two sides hold different events under one number; null when there is none. */
  | { readonly came: 'compared'; readonly apart: string | null }
  | { readonly came: 'page'; readonly rows: readonly Arrived[] }
  | { readonly came: 'taken'; readonly added: number }
  | { readonly came: 'own'; readonly rows: readonly SharedRow[] }
  | { readonly came: 'pushed'; readonly head: Pushed }
  | { readonly came: 'failed'; readonly problem: Problem };

export type ExchangeState = {
  readonly station: string;
  /** The last own event that the server confirmed in some exchange before. */
  readonly confirmed: number;
  readonly heads: ReadonlyMap<string, Head>;
  readonly hello: Hello | null;
  /** Up to where in the order of arrival everything is here. */
  readonly arrived: number;
  /** Where the page ends that is being taken in. */
  readonly page: number;
  /** What was just sent, to be held against what the server holds then. */
  readonly sending: readonly SharedRow[];
  /** Stations whose events are sent from here, and how far the server holds each; the first is sent next. */
  readonly own: readonly { readonly station: string; readonly held: number }[];
  /** Why nothing more of the others is taken in; what is own is sent all the same. */
  readonly problem: Problem | null;
  readonly outcome: Exchanged;
};

/** So many events go in one piece: small enough that a tap in between never waits for long. */
export const PAGE = 200;
/** A page may not weigh more than this either. */
export const PAGE_CHARACTERS = 400_000;

type Next = { readonly state: ExchangeState; readonly effect: ExchangeEffect };

export function beginExchange(station: string, confirmed: number): Next {
  const outcome: Exchanged = {
    hello: null,
    taken: 0,
    sent: 0,
    lostThere: 0,
    lacking: [],
    pushed: confirmed,
    problem: null,
  };
  return {
    state: {
      station,
      confirmed,
      heads: new Map(),
      hello: null,
      arrived: 0,
      page: 0,
      sending: [],
      own: [],
      problem: null,
      outcome,
    },
    effect: { do: 'read-heads' },
  };
}

/** What comes of one more thing that happened. */
export function stepExchange(state: ExchangeState, input: ExchangeInput): Next {
  switch (input.came) {
    case 'heads': {
      const heads = new Map(input.heads.map((head) => [head.station, head]));
      const numbers = Object.fromEntries(input.heads.map(({ station, seq }) => [station, seq]));
      return { state: { ...state, heads }, effect: { do: 'greet', heads: numbers } };
    }
    case 'hello':
      return greeted(state, input.hello);
    case 'compared':
      return input.apart === null ? begin(state) : end(state, twoOfOne(input.apart, state.station));
    case 'page': {
      const last = input.rows.at(-1);
      if (last === undefined) return readOwn(state);
      return { state: { ...state, page: last.arrived }, effect: { do: 'take-in', rows: input.rows } };
    }
    case 'taken': {
      const { outcome, page } = state;
      const taken = { ...outcome, taken: outcome.taken + input.added };
      return {
        state: { ...state, arrived: page, outcome: taken },
        effect: { do: 'pull', after: page },
      };
    }
    case 'own':
      return input.rows.length === 0
        ? readOwn({ ...state, own: state.own.slice(1) })
        : { state: { ...state, sending: input.rows }, effect: { do: 'push', rows: input.rows } };
    case 'pushed':
      return pushed(state, input.head);
    case 'failed':
      // What can't be taken in is no reason to keep one's own back.
      return state.own.length > 0 && state.problem === null && isOfOthers(input.problem)
        ? readOwn({ ...state, problem: input.problem })
        : end(state, input.problem);
  }
}

function greeted(state: ExchangeState, hello: Hello): Next {
  const known = { ...state, hello, outcome: { ...state.outcome, hello } };
  if (hello.station !== state.station) return end(known, otherStation(hello.station, state.station));
  const held = hello.stations.flatMap(({ id, seq, hash }) => {
    const here = state.heads.get(id)?.seq ?? 0;
    return hash === null || here === 0 ? [] : [{ station: id, seq: Math.min(here, seq), hash }];
  });
  return { state: known, effect: { do: 'compare', held } };
}

/** Both mean the same by what they hold: now what each lacks. */
function begin(state: ExchangeState): Next {
  const { hello, heads, outcome } = state;
  if (hello === null) return end(state);
  const hereOf = (id: string): number => heads.get(id)?.seq ?? 0;
  const own = hello.stations.filter(({ mine }) => mine).map(({ id, seq }) => ({ station: id, held: seq }));
  const held = own.find(({ station }) => station === state.station)?.held ?? 0;
  const next = {
    ...state,
    own,
    arrived: hello.arrived,
    outcome: {
      ...outcome,
      // What the server confirmed and has no more, though it stands here: somebody put the server's data back.
      lostThere: Math.max(0, Math.min(state.confirmed, hereOf(state.station)) - held),
      lacking: hello.stations.flatMap(({ id, mine, seq }) =>
        mine || hereOf(id) <= seq ? [] : [{ station: id, many: hereOf(id) - seq }],
      ),
      pushed: held,
    },
  };
  const missing = hello.stations.flatMap((one) => (one.next === null ? [] : [one.next]));
  if (missing.length === 0) return readOwn(next);
  return { state: next, effect: { do: 'pull', after: Math.min(...missing) - 1 } };
}

/** Of what others wrote, not of the line to the server. */
const isOfOthers = ({ code }: Problem): boolean => code.startsWith('shared-');

function readOwn(state: ExchangeState): Next {
  const [next] = state.own;
  if (next === undefined) return end(state, state.problem);
  return { state, effect: { do: 'read-own', station: next.station, after: next.held } };
}

function pushed(state: ExchangeState, head: Pushed): Next {
  const { sending, own, outcome } = state;
  const [current, ...others] = own;
  const last = sending.at(-1);
  if (current === undefined || last === undefined) return end(state);
  const there = sending.find(({ seq }) => seq === head.seq);
  if (there !== undefined && there.hash !== head.hash)
    return end(state, twoOfOne(current.station, state.station));
  if (there === undefined) return end(state, notTaken);
  const isOwn = current.station === state.station;
  return readOwn({
    ...state,
    sending: [],
    own: [{ ...current, held: head.seq }, ...others],
    outcome: {
      ...outcome,
      sent: outcome.sent + head.seq - current.held,
      pushed: isOwn ? head.seq : outcome.pushed,
    },
  });
}

const end = (state: ExchangeState, problem: Problem | null = null): Next => ({
  state,
  effect: { do: 'end', outcome: { ...state.outcome, problem } },
});

const notTaken: Problem = {
  code: 'not-taken',
  message: 'The server did not take what was sent. It is sent again.',
  exit: 69,
};

const otherStation = (there: string, here: string): Problem => ({
  code: 'other-station',
  message: `The server knows this access as station ${there}, and these books are of ${here}. Join again with the file of this station.`,
  exit: 78,
});

const twoOfOne = (station: string, here: string): Problem => ({
  code: 'shared-forked',
  message: `Station ${station} has two different events of one number, ${
    station === here
      ? 'here and on the server'
      : `these books' and the server's: ${station} used numbers again that stand here`
  }. Nothing was changed. Run ullage station rejoin on this computer; see "Two of one number" in the README.`,
  exit: 65,
});

/** How far this computer's clock is ahead of the server's, ms; below zero behind. The way there and back counts half. */
export const skewOf = (server: string, askedAt: number, answeredAt: number): number =>
  Math.round((askedAt + answeredAt) / 2 - epochOf(server));
