// sync: one exchange with the house's server now.
import { SKEW_SAID_MS } from '../../domain/intent/moment.ts';
import type { Outcome as Exchange } from '../../store/exchange-run.ts';
import {
  type Command,
  type Context,
  type Outcome,
  refused,
  say,
  sayJson,
  usageProblem,
} from '../line/command.ts';
import { exchangeNow } from './exchange-now.ts';
import { joinedOf, skewText } from './joined.ts';

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
