// station: how this station of the house stands with the others; join and rejoin.
import { SKEW_SAID_MS } from '../../domain/intent/moment.ts';
import { dayClockText, instantOf } from '../../domain/value/clock-date.ts';
import { isInStep, stationsAway } from '../../store/station.ts';
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
import { join } from './join.ts';
import { joinedOf, lackingTexts, skewText } from './joined.ts';
import { rejoin } from './rejoin.ts';

export const station: Command = {
  name: 'station',
  usage: ['station', 'station join FILE [--instead]', 'station rejoin'],
  says: 'this station of the house: in step with the others or not, and what waits; join makes it one',
  flags: [
    {
      name: 'instead',
      says: 'joins the house made anew after its server was lost: each station sends it what it has',
    },
  ],
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
        ...lackingTexts(status?.lacking ?? []),
        ...away.map((other) => `${other.name} was last heard ${when(other.since)}.`),
      ].join('\n'),
    );
  });
}
