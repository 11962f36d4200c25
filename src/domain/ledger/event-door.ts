// The door of the books: data of any origin becomes an event, or is refused in a few words.

import * as z from 'zod/mini';
import { canonicalJson } from '../value/canonical.ts';
import { issueText } from '../value/issue.ts';
import { firstActing } from '../value/text.ts';
import { type Event, type EventKind, eventBase, eventSchema } from './event.ts';

/** As much as one event may hold when it is written down: a card of forty measures is a tenth of it. */
export const LARGEST_EVENT = 100_000;

/** One event from data of any origin. Names the first thing that is wrong, with its path, in words of our own. */
export function parseEvent(data: unknown): { ok: true; event: Event } | { ok: false; reason: string } {
  const parsed = eventSchema.safeParse(data);
  if (parsed.success) return { ok: true, event: parsed.data };
  return { ok: false, reason: issueText(parsed.error.issues, 'event') };
}

/** The same for what is to be stored: no text of it may act on a screen, and it is no longer than an event may be. */
export function admitEvent(data: unknown): ReturnType<typeof parseEvent> {
  const parsed = parseEvent(data);
  if (!parsed.ok) return parsed;
  const acting = firstActing(parsed.event);
  return acting === null
    ? parsed
    : { ok: false, reason: `event: a text holds the control character ${acting}` };
}

/** An event that went through the door, as it is stored: its canonical text and what stands in columns beside it. */
export type EventLine = Pick<Event, 'id' | 'at' | 'station' | 'seq' | 'kind' | 'shift'> & {
  readonly body: string;
};

export const lineOf = (event: Event): EventLine => {
  const { id, at, station, seq, kind, shift } = event;
  return { id, at, station, seq, kind, shift, body: canonicalJson(event) };
};

const envelope = z.looseObject({ ...eventBase, kind: z.string().check(z.regex(/^[a-z][a-z-]{0,39}$/)) });

/** What every event has, of one whose kind or shape is not known here; null when it has not even that, or when a text of it acts. */
export function envelopeOf(
  data: unknown,
): Pick<EventLine, 'id' | 'at' | 'station' | 'seq' | 'kind' | 'shift'> | null {
  try {
    const parsed = envelope.safeParse(data);
    if (!parsed.success || firstActing(data) !== null) return null;
    const { id, at, station, seq, shift, kind } = parsed.data;
    return { id, at, station, seq, shift, kind: kind as EventKind };
  } catch {
    // Nested deeper than anything can be walked.
    return null;
  }
}
