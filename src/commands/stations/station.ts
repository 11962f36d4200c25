// station, sync: this station of the house: how it stands with the others, joining, one exchange now.
import { statSync } from 'node:fs';
import { SKEW_SAID_MS } from '../../domain/intent/moment.ts';
import { admitEvent } from '../../domain/ledger/event-door.ts';
import { dayClockText, instantOf } from '../../domain/value/clock-date.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import type { Outcome as Exchange } from '../../store/exchange-run.ts';
import { openShared } from '../../store/file/shared.ts';
import type { Link } from '../../store/server/link.ts';
import { isInStep, type StationFile, stationFileSchema, stationsAway } from '../../store/station.ts';
import {
  type Command,
  type Context,
  type Outcome,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';
import { exchangeNow } from './exchange-now.ts';
import { rejoin } from './rejoin.ts';

/** So far ahead of its clock the server takes an event, ms. */
const AHEAD_MS = 5 * 60_000;
/** A join takes in a long past: bigger pages. */
const JOIN_PAGE = 2000;

export const station: Command = {
  name: 'station',
  usage: ['station', 'station join FILE', 'station rejoin'],
  says: 'this station of the house: in step with the others or not, and what waits; join makes it one',
  examples: ['station --json', 'station join well-2.station'],
  run: (context) => {
    const [verb, file, ...more] = context.words;
    if (verb === undefined) return showStation(context);
    if (verb === 'rejoin' && file === undefined) {
      const joined = joinedOf(context);
      return joined.ok ? rejoin(context, joined.value) : refused(joined.problems);
    }
    if (verb !== 'join' || more.length > 0)
      return usageProblem(
        'station takes no words, join and a file, or rejoin. Write it as ullage station join FILE.',
      );
    if (file === undefined)
      return usageProblem('Name the file that came from the server: ullage station join FILE.');
    return join(context, file);
  },
};

const notJoined = refuse(
  'not-joined',
  'These books belong to no house of several stations. Join one with ullage station join FILE.',
  78,
);

function joinedOf({ world }: Context): Result<StationFile> {
  const joined = world.notes.joined();
  if (!joined.ok) return joined;
  return joined.value === null ? notJoined : done(joined.value);
}

async function showStation(context: Context): Promise<Outcome> {
  const joined = joinedOf(context);
  if (!joined.ok) return refused(joined.problems);
  const { house, station: name, access } = joined.value;
  const status = context.world.notes.status();
  return withStore(context, (store) => {
    const own = store.ownNumber();
    const waiting = Math.max(0, own - (status?.confirmed ?? 0));
    const isBehind = own < (status?.confirmed ?? 0);
    const inStep = status !== null && !isBehind && isInStep({ ...status, waiting });
    const away = status === null ? [] : stationsAway(status, instantOf(context.world.now()));
    const said = {
      station: name,
      house: house.name,
      server: `${access.host}:${access.port}`,
      inStep,
      waiting,
      lastSeen: status?.at ?? null,
      skewMs: status?.skewMs ?? 0,
    };
    if (context.json) return sayJson(said);
    const { zone } = store.books().house;
    const when = (at: string | null): string => (at === null ? 'never' : dayClockText(at, zone));
    return say(
      [
        `Station ${name} of ${house.name}, server ${said.server}.`,
        inStep
          ? `In step as of ${when(said.lastSeen)}; nothing waits.`
          : `Not in step; last in step: ${when(said.lastSeen)}. Kept here: ${waiting}.`,
        ...(isBehind
          ? ['These books are older than what was sent: its own events come back with ullage sync.']
          : []),
        ...(status?.problem === null || status === null ? [] : [status.problem.message]),
        ...(Math.abs(said.skewMs) > SKEW_SAID_MS ? [skewText(said.skewMs)] : []),
        ...away.map((other) => `${other.name} was last heard ${when(other.since)}.`),
      ].join('\n'),
    );
  });
}

export const skewText = (skewMs: number): string =>
  `This clock is ${Math.round(Math.abs(skewMs) / 1000)} s ${skewMs > 0 ? 'ahead of' : 'behind'} the server's. Put it right.`;

export const sync: Command = {
  name: 'sync',
  usage: ['sync'],
  says: "one exchange with the house's server now: what others recorded comes in, what waits here goes out",
  run: async (context) => {
    if (context.words.length > 0) return usageProblem('sync takes no words. Run ullage sync.');
    const joined = joinedOf(context);
    if (!joined.ok) return refused(joined.problems);
    const outcome = await exchangeNow(context.world, { joined: joined.value });
    return outcome.ok ? exchanged(context, outcome.value) : refused(outcome.problems);
  },
};

function exchanged(
  context: Context,
  { taken, sent, lostThere, lacking, problem, skewMs, hello }: Exchange,
): Outcome {
  if (problem !== null) return refused([problem]);
  if (context.json) return sayJson({ taken, sent, lostThere, lacking, skewMs });
  const lost =
    lostThere === 0
      ? ''
      : ` The server had lost ${lostThere} event${lostThere === 1 ? '' : 's'} of this station that it held before: they were sent again. Tell who keeps it.`;
  const skew = Math.abs(skewMs) > SKEW_SAID_MS ? ` ${skewText(skewMs)}` : '';
  const unsafe =
    hello === null || hello.unsafe.length === 0
      ? ''
      : ` On the server ${hello.unsafe.join(' and ')} ${hello.unsafe.length === 1 ? 'is' : 'are'} off, so a power cut there may lose events; they stay here.`;
  return say(`In step: ${taken} came in, ${sent} went out.${lost}${lackingText(lacking)}${skew}${unsafe}`);
}

const lackingText = (lacking: Exchange['lacking']): string =>
  lacking
    .map(
      ({ station: name, many }) =>
        ` Of station ${name} ${many} event${many === 1 ? '' : 's'} stand here that the server has no more: ${name} sends them again when it comes; until then keep these books.`,
    )
    .join('');

/** Reads the file, asks the server, and takes the house's past in; broken off, the next sync goes on where it was. */
async function join(context: Context, path: string): Promise<Outcome> {
  const file = readStationFile(context, path);
  if (!file.ok) return refused(file.problems);
  const { world } = context;
  const known = world.notes.joined();
  if (known.ok && known.value !== null && !isSame(known.value, file.value))
    return refused([
      {
        code: 'joined-elsewhere',
        exit: 65,
        message: `These books belong to station ${known.value.station} of ${clean(known.value.house.name)}. Give another folder with --data for ${file.value.station} of ${clean(file.value.house.name)}.`,
      },
    ]);
  const outcome = await exchangeNow(world, {
    joined: file.value,
    page: JOIN_PAGE,
    before: async (link) => {
      const may = await mayJoin(context, file.value, link);
      return may.ok ? world.notes.keepJoined(file.value) : may;
    },
  });
  if (!outcome.ok) return refused(outcome.problems);
  const { problem, taken, sent } = outcome.value;
  if (problem !== null) return refused([problem]);
  if (context.json)
    return sayJson({ house: file.value.house.name, station: file.value.station, taken, sent });
  return say(
    `This is station ${file.value.station} of ${clean(file.value.house.name)}: ${taken} events came in, ${sent} went out. Delete ${clean(path)}; its password is kept with this computer's settings.`,
  );
}

const isSame = (a: StationFile, b: StationFile): boolean =>
  a.house.id === b.house.id && a.station === b.station;

function readStationFile({ world }: Context, path: string): Result<StationFile> {
  const bytes = world.readFile(path);
  if (!bytes.ok) return bytes;
  if ((statSync(path).mode & 0o077) !== 0)
    return refuse(
      'open-access',
      `Others can read ${clean(path)}, which holds a password. Set its mode to 0600.`,
      78,
    );
  try {
    return done(stationFileSchema.parse(JSON.parse(new TextDecoder().decode(bytes.value))));
  } catch {
    return refuse(
      'bad-station-file',
      `${clean(path)} is no file to join with. Use the one that ullage server add-station wrote.`,
    );
  }
}

/** Empty books may join; others only when they are of this house, or the first of it. */
async function mayJoin({ world }: Context, file: StationFile, link: Link): Promise<Result<null>> {
  const books = openShared(world.dataFolder);
  if (!books.ok) return books;
  try {
    const heads = books.value.heads();
    if (!heads.ok) return heads;
    const known = Object.fromEntries(heads.value.map(({ station: id, seq }) => [id, seq]));
    const greeting = await link.greet(known, false);
    if (!greeting.ok) return greeting;
    const { hello } = greeting.value;
    if (hello.station !== file.station || hello.house !== file.house.id)
      return refuse(
        'other-station',
        `The server knows this access as station ${hello.station} of ${clean(hello.houseName)}: the file was changed. Use it as ullage server add-station wrote it.`,
      );
    if (heads.value.length === 0) return done(null);
    const there = new Map(hello.stations.map((one) => [one.id, one]));
    if (hello.arrived > 0)
      return heads.value.every(({ station: id, hash }) => {
        const held = there.get(id);
        return held !== undefined && (held.mine || held.hash === hash);
      })
        ? done(null)
        : otherHouse;
    const sound = areSendable(books.value.rowsAfter, heads.value, instantOf(world.now() + AHEAD_MS));
    const names = heads.value.map(({ station: id }) => id).filter((id) => id !== file.station);
    return sound.ok ? link.bring(names) : sound;
  } finally {
    books.value.close();
  }
}

const otherHouse = refuse(
  'other-house',
  'These books are of another house than the one on the server. Move them away, or give an empty folder with --data, and join again.',
);

/** What another station could not read it could not take in: older books may hold such lines. */
function areSendable(
  rowsAfter: (
    station: string,
    seq: number,
    most: number,
  ) => Result<readonly { readonly body: string; readonly seq: number }[]>,
  heads: readonly { readonly station: string }[],
  latest: string,
): Result<null> {
  for (const { station: id } of heads) {
    let after = 0;
    for (;;) {
      const page = rowsAfter(id, after, JOIN_PAGE);
      if (!page.ok) return page;
      const bad = page.value.find(({ body }) => !isSound(body));
      if (bad !== undefined)
        return refuse(
          'old-lines',
          `Event ${bad.seq} of station ${id} can't be read by other stations. Export the events, import them into new books with --data, and join with those.`,
        );
      const ahead = page.value.find(({ body }) => (JSON.parse(body) as { at: string }).at > latest);
      if (ahead !== undefined)
        return refuse(
          'lies-ahead',
          `Event ${ahead.seq} of station ${id} lies in the future, which no server takes. Export the events, take that line out and those that name it, import them into new books with --data, and join with those.`,
        );
      const last = page.value.at(-1);
      if (last === undefined) break;
      after = last.seq;
    }
  }
  return done(null);
}

function isSound(body: string): boolean {
  try {
    return admitEvent(JSON.parse(body)).ok;
  } catch {
    return false;
  }
}
