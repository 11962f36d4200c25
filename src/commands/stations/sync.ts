// sync: one exchange with the house's server now.
import { SKEW_SAID_MS } from '../../domain/intent/moment.ts';
import { clean } from '../../domain/value/text.ts';
import type { Outcome as Exchange } from '../../store/exchange-run.ts';
import type { StationFile } from '../../store/station.ts';
import {
  type Command,
  type Context,
  flagOf,
  type Outcome,
  refused,
  say,
  sayJson,
  usageProblem,
} from '../line/command.ts';
import { exchangeNow } from './exchange-now.ts';
import { readStationFile } from './join.ts';
import { joinedOf, lackingText, skewText } from './joined.ts';

export const sync: Command = {
  name: 'sync',
  usage: ['sync [--for FILE]'],
  says: "one exchange with the house's server now: what others recorded comes in, what waits here goes out",
  flags: [
    {
      name: 'for',
      takes: 'FILE',
      says: 'sends what stands here of another station whose computer is gone, with a file made for it',
    },
  ],
  run: async (context) => {
    if (context.words.length > 0) return usageProblem('sync takes no words. Run ullage sync.');
    const joined = joinedOf(context);
    if (!joined.ok) return refused(joined.problems);
    const other = flagOf(context, 'for');
    if (other !== undefined) return sendFor(context, joined.value, other);
    const outcome = await exchangeNow(context.world, { joined: joined.value });
    return outcome.ok ? exchanged(context, outcome.value) : refused(outcome.problems);
  },
};

/** What these books hold of a station that will not come back, in its place: under its access, and never anything of another house. */
async function sendFor(context: Context, joined: StationFile, path: string): Promise<Outcome> {
  const { world } = context;
  const file = readStationFile(world, path);
  if (!file.ok) return refused(file.problems);
  const { station, house } = file.value;
  if (house.id !== joined.house.id || station === joined.station)
    return refused([
      {
        code: 'not-for-it',
        exit: 65,
        message: `${clean(path)} is of station ${station} of ${clean(house.name)}, and these books are of station ${joined.station} of ${clean(joined.house.name)}. Give the file of another station of the same house.`,
      },
    ]);
  // How this station itself stands is another matter.
  const notes = { ...world.notes, status: () => null, keepStatus: () => undefined };
  const outcome = await exchangeNow({ ...world, notes }, { joined: file.value });
  if (!outcome.ok) return refused(outcome.problems);
  const { problem, sent, taken } = outcome.value;
  if (problem !== null) return refused([problem]);
  if (context.json) return sayJson({ station, sent, taken });
  return say(
    `For station ${station}: ${sent} went out, ${taken} came in. Delete ${clean(path)}, or join with it anew.`,
  );
}

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
