// The house these books belong to, as the commands ask for it.
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import type { StationFile } from '../../store/station.ts';
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

export const skewText = (skewMs: number): string =>
  `This clock is ${Math.round(Math.abs(skewMs) / 1000)} s ${skewMs > 0 ? 'ahead of' : 'behind'} the server's. Put it right.`;
