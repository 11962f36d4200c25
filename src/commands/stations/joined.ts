// The house these books belong to, as the commands ask for it.
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import type { Outcome as Exchange } from '../../store/exchange-run.ts';
import { lackingText, type StationFile } from '../../store/station.ts';
import type { Context } from '../line/command.ts';

const notJoined = refuse(
  'not-joined',
  'These books belong to no house of several stations. Join one with ullage station join FILE.',
  78,
);

export function joinedOf({ world }: Context): Result<StationFile> {
  const joined = world.notes.joined();
  if (!joined.ok) return joined;
  return joined.value === null ? notJoined : done(joined.value);
}

/** The same with what is to be done: a line a station. */
export const lackingTexts = (lacking: Exchange['lacking']): string[] =>
  lacking.map((one) => {
    const { station: name } = one;
    return `${lackingText(one)}: ${name} sends them when it comes; until then keep these books. If its computer is gone, ask who keeps the server for a new file of ${name}, and send them with ullage sync --for FILE.`;
  });

export const skewText = (skewMs: number): string =>
  `This clock is ${Math.round(Math.abs(skewMs) / 1000)} s ${skewMs > 0 ? 'ahead of' : 'behind'} the server's. Put it right.`;
