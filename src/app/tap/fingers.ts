// What fingers do by accident: a key that is held down, the same pour tapped over and over. Pure; the time of a key comes with it,
// and where none does nothing is suspected.
import type { Event } from '../../domain/ledger/event.ts';
import type { EventId } from '../../domain/value/ids.ts';
import type { Key } from '../keys.ts';

/** No finger presses one key twice as fast; a keyboard that repeats it does. */
const REPEAT_MS = 100;
/** The longest a keyboard waits before it begins to repeat. */
const DELAY_MS = 1000;
/** So many of the same within so long are asked about. */
const MANY = 10;
const MANY_WITHIN_MS = 2000;
/** So many pours that came in one read are said: typed ahead of a stall, or a paste that the terminal does not mark as one. */
const MANY_AT_ONCE = 5;

export type Fingers = {
  readonly key: Key;
  readonly ms: number;
  /** How often the key came again as fast as only a keyboard repeats it. */
  readonly repeats: number;
  /** What this key recorded since it went down, while it may be the same press. */
  readonly did: readonly (readonly EventId[])[];
  /** The same pour, lately: what it says, and when. */
  readonly same: {
    readonly said: string;
    readonly at: readonly number[];
    readonly ids: readonly EventId[][];
    readonly asked: boolean;
  };
  /** What the keys of one read poured, one after the other. */
  readonly atOnce: { readonly ms: number; readonly ids: readonly (readonly EventId[])[] };
  /** What the next key may take back of that. */
  readonly offered: readonly EventId[] | null;
};

export const restingFingers: Fingers = {
  key: '',
  ms: Number.NEGATIVE_INFINITY,
  repeats: 0,
  did: [],
  same: { said: '', at: [], ids: [], asked: false },
  atOnce: { ms: Number.NEGATIVE_INFINITY, ids: [] },
  offered: null,
};

/** What ^R pours again and ^U takes back must not be the keyboard's own doing; of other keys the second may still be meant. */
const spared = (key: Key): number => (key === 'ctrl-r' || key === 'ctrl-u' ? 0 : 1);
const records = (key: Key): boolean => key === 'enter' || key.startsWith('ctrl-');

/** A key comes down; `isHeld` when it is the keyboard's own repeat, which records nothing. */
export function pressed(before: Fingers, key: Key, ms: number): { fingers: Fingers; isHeld: boolean } {
  const gap = ms - before.ms;
  const isSame = key === before.key;
  const repeats = isSame && gap < REPEAT_MS ? before.repeats + 1 : 0;
  const did = isSame && gap < DELAY_MS ? before.did : [];
  const fingers = { ...before, key, ms, repeats, did };
  return { fingers, isHeld: records(key) && repeats > spared(key) };
}

const isPour = ({ kind }: Event): boolean => kind === 'drink-poured' || kind === 'measure-poured';

/** Something was recorded by the key that came down last. */
export function recordedBy(before: Fingers, events: readonly Event[], said: string): Fingers {
  if (before.key === '' || events.length === 0) return before;
  const ids = events.map(({ id }) => id);
  const { same, ms } = before;
  const goesOn = said === same.said && ms - (same.at.at(-1) ?? ms) < MANY_WITHIN_MS;
  const next = goesOn
    ? { ...same, at: [...same.at, ms].slice(-MANY), ids: [...same.ids, ids].slice(-MANY) }
    : { said, at: [ms], ids: [ids], asked: false };
  const earlier = before.atOnce.ms === ms ? before.atOnce.ids : [];
  const atOnce = { ms, ids: events.some(isPour) ? [...earlier, ids] : earlier };
  return { ...before, did: [...before.did, ids], same: next, atOnce };
}

/** The same pour so often that it is asked about: all of it but the first; null when nothing is odd. */
export function tooMany({ same }: Fingers): readonly EventId[] | null {
  const [first] = same.at;
  const last = same.at.at(-1);
  const isMany =
    same.at.length >= MANY && first !== undefined && last !== undefined && last - first <= MANY_WITHIN_MS;
  return isMany && !same.asked ? same.ids.slice(1).flat() : null;
}

/** What the keys of the read that came at `ms` poured, where that is a lot. */
export const muchAtOnce = ({ atOnce }: Fingers, ms: number): readonly (readonly EventId[])[] | null =>
  atOnce.ms === ms && atOnce.ids.length >= MANY_AT_ONCE ? atOnce.ids : null;

export const asked = (fingers: Fingers): Fingers => ({ ...fingers, same: { ...fingers.same, asked: true } });

/** What one held key recorded after the first; null when it was nothing. */
export const didTooMuch = ({ repeats, did }: Fingers): readonly EventId[] | null =>
  repeats > 0 && did.length > 1 ? did.slice(1).flat() : null;
