// station join: these books become a station of a house. Empty ones take its past in; the first of a house may bring what it has.
import { statSync } from 'node:fs';
import { admitEvent } from '../../domain/ledger/event-door.ts';
import { instantOf } from '../../domain/value/clock-date.ts';
import { done, type Problem, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import type { Head, Hello, SharedBooks } from '../../store/exchange.ts';
import { openShared } from '../../store/file/shared.ts';
import type { Link } from '../../store/server/link.ts';
import { isSoloName, type StationFile, stationFileSchema } from '../../store/station.ts';
import { type Context, hasFlag, type Outcome, refused, say, sayJson, type World } from '../line/command.ts';
import { exchangeNow } from './exchange-now.ts';
import { lackingTexts } from './joined.ts';

/** So far ahead of its clock the server takes an event, ms. */
const AHEAD_MS = 5 * 60_000;
/** A join takes in a long past: bigger pages. */
const JOIN_PAGE = 2000;

/** Reads the file, asks the server, and takes the house's past in; broken off, the next sync goes on where it was. */
export async function join(context: Context, path: string): Promise<Outcome> {
  const file = readStationFile(context.world, path);
  if (!file.ok) return refused(file.problems);
  const { world } = context;
  const known = world.notes.joined();
  const before = known.ok ? known.value : null;
  const isAnew = before !== null && hasFlag(context, 'instead') && before.station === file.value.station;
  if (before !== null && !isSame(before, file.value)) {
    if (!isAnew) return refused([joinedElsewhere(before, file.value)]);
    const lost = await isLost(context, before, file.value);
    if (!lost.ok) return refused(lost.problems);
  }
  const outcome = await exchangeNow(world, {
    joined: file.value,
    page: JOIN_PAGE,
    before: async (link) => {
      const may = await mayJoin(context, file.value, link, isAnew);
      if (may.ok) return world.notes.keepJoined(file.value);
      // It asked and is none: nobody there need wait for it.
      await link.greet({}, true);
      return may;
    },
  });
  if (!outcome.ok) return refused(outcome.problems);
  const { problem, taken, sent, lacking } = outcome.value;
  if (problem !== null) return refused([problem]);
  if (context.json)
    return sayJson({ house: file.value.house.name, station: file.value.station, taken, sent });
  return say(
    [
      `This is station ${file.value.station} of ${clean(file.value.house.name)}: ${taken} event${taken === 1 ? '' : 's'} came in, ${sent} went out. Delete ${clean(path)}; its password is kept with this computer's settings. ${before === null ? 'Leave rooms that are open here, and open them again.' : 'Rooms that are open here come along within a minute.'}`,
      ...lackingTexts(lacking),
    ].join('\n'),
  );
}

function joinedElsewhere(known: StationFile, wanted: StationFile): Problem {
  const belong = `These books belong to station ${known.station} of ${clean(known.house.name)} on ${whereOf(known)}.`;
  const message =
    known.station === wanted.station && isNamedAlike(known, wanted)
      ? `${belong} The file is of a house of that name made anew on ${whereOf(wanted)}: if the first is lost, join with --instead.`
      : `${belong} Give another folder with --data for ${wanted.station} of ${clean(wanted.house.name)}.`;
  return { code: 'joined-elsewhere', exit: 65, message };
}

const whereOf = ({ access }: StationFile): string => `${access.host}:${access.port}/${access.database}`;
const isNamedAlike = (a: StationFile, b: StationFile): boolean =>
  a.house.name.toLowerCase() === b.house.name.toLowerCase();

/** A house is left for another one only when it bears the same name and the first does not answer any more. */
async function isLost({ world }: Context, known: StationFile, wanted: StationFile): Promise<Result<null>> {
  if (!isNamedAlike(known, wanted))
    return refuse(
      'other-name',
      `These books are of ${clean(known.house.name)}, and the file is of ${clean(wanted.house.name)}. Ask who keeps the server for a house of the same name and a file of that one.`,
    );
  const { openLink } = await import('../../store/server/link.ts');
  // To be let in is answer enough: nothing is asked, so nobody there takes this station for one at work.
  const link = await openLink(known.access, world.now);
  if (!link.ok) return done(null);
  await link.value.close().catch(() => undefined);
  return refuse(
    'still-there',
    `${clean(known.house.name)} on ${whereOf(known)} answers: it is not lost, and nothing is to be done. If the house moves, end this station there first with ullage server drop-station.`,
  );
}

const isSame = (a: StationFile, b: StationFile): boolean =>
  a.house.id === b.house.id && a.station === b.station;

export function readStationFile(world: World, path: string): Result<StationFile> {
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

/**
 * Empty books may join; others only when they are of this house, or the first of it. A house made anew after its server was lost gets
 * its events from those who have them: each station sends its own, and the first also those of nobody who is there any more.
 */
async function mayJoin(
  { world }: Context,
  file: StationFile,
  link: Link,
  isAnew: boolean,
): Promise<Result<null>> {
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
    const elsewhere = ownElsewhere(hello, known[file.station] ?? 0);
    if (elsewhere !== null) return elsewhere;
    if (heads.value.length === 0) return done(null);
    const there = new Map(hello.stations.map((one) => [one.id, one]));
    // Books that somebody brought when they first joined were written under a name of no station.
    const brought = new Set(world.notes.status()?.brought);
    const isBrought = (name: string): boolean => isSoloName(name) || brought.has(name);
    if (isAnew) {
      const may = goesOn(books.value, heads.value, hello, isBrought);
      if (!may.ok || hello.arrived > 0) return may;
    }
    if (hello.arrived > 0)
      return heads.value.every(({ station: id, hash }) => {
        const held = there.get(id);
        return held !== undefined && (held.mine || held.hash === hash);
      })
        ? done(null)
        : otherHouse;
    const sound = areSendable(books.value.rowsAfter, heads.value, instantOf(world.now() + AHEAD_MS));
    const names = heads.value.map(({ station: id }) => id).filter((id) => id !== file.station);
    return sound.ok ? link.bring(isAnew ? names.filter(isBrought) : names) : sound;
  } finally {
    books.value.close();
  }
}

/** Its own numbers would be used a second time: others have events of it that neither the server nor these books hold. */
function ownElsewhere({ stations, station }: Hello, here: number): Result<never> | null {
  const own = stations.find(({ id }) => id === station);
  const many = own === undefined ? 0 : own.known - Math.max(own.seq, here);
  if (own === undefined || many <= 0) return null;
  return refuse(
    'own-elsewhere',
    `${many === 1 ? 'One event' : `${many} events`} of station ${station} ${many === 1 ? 'stands' : 'stand'} at station ${own.knownBy ?? 'of another name'} and not on the server. Send ${many === 1 ? 'it' : 'them'} from there first, with this file: ullage sync --for FILE. Then join.`,
    75,
  );
}

/**
 * May books go on with a house that was made anew? Nothing under one number may differ, something must be the same once there is
 * something, and every station of which events stand here must be there.
 */
function goesOn(
  books: SharedBooks,
  heads: readonly Head[],
  hello: Hello,
  isBrought: (name: string) => boolean,
): Result<null> {
  const { stations, arrived } = hello;
  const there = new Map(stations.map((one) => [one.id, one]));
  const both = heads.flatMap(({ station: id, seq }) => {
    const held = there.get(id);
    return held === undefined || held.hash === null ? [] : [{ ...held, seq: Math.min(seq, held.seq) }];
  });
  for (const { id, seq, hash } of both) {
    const here = books.hashAt(id, seq);
    if (!here.ok) return here;
    if (here.value !== hash) return begunAnew;
  }
  if (arrived > 0 && both.length === 0) return begunAnew;
  const unknown = heads
    .map(({ station: id }) => id)
    .filter((id) => !there.has(id) && !(arrived === 0 && isBrought(id)));
  return unknown.length === 0
    ? done(null)
    : refuse(
        'no-such-station',
        `${clean(hello.houseName)} on the server lacks stations of which events stand here: ${unknown.join(', ')}. Ask who keeps the server to add them under these names, then join again.`,
      );
}

const begunAnew = refuse(
  'begun-anew',
  'The house on the server was begun by other books than these: by an empty station, or it is another house of the same name. Nothing was changed. Ask who keeps the server to add the house once more, the begun one renamed with ullage server rename-house.',
);

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
