// A text of events read as a file of them is: all of it, or what is wrong with its lines.
import type { Event } from '../../src/domain/ledger/event.ts';
import { done, type Problem, type Result, refuseAll } from '../../src/domain/value/problem.ts';
import { readEvents } from '../../src/exchange/file/event-lines.ts';

export function readEventText(text: string): Result<{ events: Event[]; lines: number[] }> {
  const [events, lines, problems]: [Event[], number[], Problem[]] = [[], [], []];
  let line = 0;
  for (const one of readEvents(text.split('\n'))) {
    line += 1;
    if (one === null) continue;
    if ('code' in one) problems.push({ ...one, line });
    else {
      events.push(one);
      lines.push(line);
    }
  }
  return problems.length > 0 ? refuseAll(problems) : done({ events, lines });
}
