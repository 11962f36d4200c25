// sync: one exchange with the house's server now.
import { SKEW_SAID_MS } from '../../domain/intent/moment.ts';
import type { Problem } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import type { Outcome as Exchange } from '../../store/exchange-run.ts';
import { lostText, type StationFile } from '../../store/station.ts';
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
import { joinedOf, lackingTexts, skewText } from './joined.ts';

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
  const whose = `${clean(path)} is of station ${station} of ${clean(house.name)}`;
  if (house.id !== joined.house.id)
    return refused([
      notForIt(
        house.name === joined.house.name
          ? `${whose} on another server than the one these books are in step with. Give one made there, or join the house made anew with --instead first.`
          : `${whose}, and these books are of ${clean(joined.house.name)}. Give the file of another station of that house.`,
      ),
    ]);
  if (station === joined.station)
    return refused([
      notForIt(
        `${whose}, and so are these books: ullage sync sends what is theirs. Give the file of another station.`,
      ),
    ]);
  // How this station itself stands is another matter.
  const notes = { ...world.notes, status: () => null, keepStatus: () => undefined };
  const outcome = await exchangeNow({ ...world, notes }, { joined: file.value });
  if (!outcome.ok) return refused(outcome.problems);
  const { problem, sent, taken, pushed, hello } = outcome.value;
  if (problem !== null) return refused([problem]);
  const other = hello?.stations.find(({ id }) => id === station);
  const missing = Math.max(0, (other?.known ?? 0) - pushed);
  if (context.json) return sayJson({ station, sent, taken, missing });
  const next =
    missing === 0
      ? `The server has all of it that is known of. The new computer may join with ${clean(path)}.`
      : `${missing} more ${missing === 1 ? 'stands' : 'stand'} at station ${other?.knownBy ?? 'of another name'}: do the same there before the new computer joins.`;
  return say(`For station ${station}: ${sent} went out, ${taken} came in. ${next}`);
}

const notForIt = (message: string): Problem => ({ code: 'not-for-it', exit: 65, message });

function exchanged(
  context: Context,
  { taken, sent, lostThere, lacking, problem, skewMs, hello }: Exchange,
): Outcome {
  if (problem !== null) return refused([problem]);
  if (context.json) return sayJson({ taken, sent, lostThere, lacking, skewMs });
  const lost = lostThere === 0 ? '' : ` ${lostText(lostThere)}`;
  const skew = Math.abs(skewMs) > SKEW_SAID_MS ? ` ${skewText(skewMs)}` : '';
  const unsafe =
    hello === null || hello.unsafe.length === 0
      ? ''
      : ` On the server ${hello.unsafe.join(' and ')} ${hello.unsafe.length === 1 ? 'is' : 'are'} off, so a power cut there may lose events; they stay here.`;
  return say(
    [`In step: ${taken} came in, ${sent} went out.${lost}${skew}${unsafe}`, ...lackingTexts(lacking)].join(
      '\n',
    ),
  );
}
