// Before a seal: one exchange with the house's server, and the names of the stations that are not in step.
import { dayClockText, instantOf } from '../../domain/value/clock-date.ts';
import { clean } from '../../domain/value/text.ts';
import { stationsAway } from '../../store/station.ts';
import { type Context, flagOf, type Outcome, refused } from '../line/command.ts';
import { exchangeNow } from './exchange-now.ts';

/** Null when nothing is missing, or when `--without` names what is; else why the seal waits. */
export async function missingStations(context: Context, zone: string): Promise<Outcome | null> {
  const { world } = context;
  const joined = world.notes.joined();
  if (!joined.ok) return refused(joined.problems);
  if (joined.value === null) return null;
  const exchanged = await exchangeNow(world, { joined: joined.value });
  if (!exchanged.ok) return refused(exchanged.problems);
  const status = world.notes.status();
  const away = status === null ? [] : stationsAway(status, instantOf(world.now()));
  const named = new Set(
    (flagOf(context, 'without') ?? '')
      .split(',')
      .map((name) => name.trim().toLowerCase())
      .filter((name) => name !== ''),
  );
  const nobody = [...named].find(
    (one) => !(status?.stations ?? []).some(({ id, name }) => [id, name.toLowerCase()].includes(one)),
  );
  if (nobody !== undefined)
    return refused([
      {
        code: 'unknown-station',
        exit: 65,
        message: `No other station is called "${clean(nobody).slice(0, 40)}". There is ${(status?.stations ?? []).map(({ id }) => id).join(', ') || 'none'}.`,
      },
    ]);
  const missing = away.filter(({ id, name }) => !named.has(id) && !named.has(name.toLowerCase()));
  if (missing.length === 0) return null;
  const each = missing.map(({ name, since }) =>
    since === null ? clean(name) : `${clean(name)} (last heard ${dayClockText(since, zone)})`,
  );
  return refused([
    {
      code: 'stations-away',
      exit: 75,
      message: `Not in step: ${each.join(', ')}. Bring ${missing.length === 1 ? 'it' : 'them'} back, or seal without: --without ${away.map(({ id }) => id).join(',')}. What comes later then stands beside the report.`,
    },
  ]);
}
