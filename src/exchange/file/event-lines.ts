// Events as JSON Lines, in and out, and their JSON Schema, made from the definition that reads them.
import * as z from 'zod/mini';
import { type Event, eventSchema } from '../../domain/ledger/event.ts';
import { admitEvent, LARGEST_EVENT } from '../../domain/ledger/event-door.ts';
import type { Problem } from '../../domain/value/problem.ts';
import { clean, harmless } from '../../domain/value/text.ts';

const DEEPEST = 20;
const forbidden = new Set(['__proto__', 'constructor', 'prototype']);

/** Older books may hold names with controls in them: what leaves the books acts on no screen, and can be taken in again. */
export const writeEvent = (event: Event): string => `${JSON.stringify(harmless(event))}\n`;

export const eventJsonSchema = (): string => `${JSON.stringify(z.toJSONSchema(eventSchema), null, 2)}\n`;

/** Lines of a file to what they hold, one for one: an event, what is wrong with the line, or null for an empty one. Lazy. */
export function* readEvents(lines: Iterable<string | Problem>): Generator<Event | Problem | null> {
  for (const raw of lines) {
    if (typeof raw !== 'string') yield raw;
    else if (raw.trim() === '') yield null;
    else {
      const read = readLine(raw);
      yield typeof read === 'string' ? { code: 'bad-event', exit: 65, message: read } : read;
    }
  }
}

function readLine(raw: string): Event | string {
  if (raw.length > LARGEST_EVENT * 2) return 'The line is longer than an event can be. Take it out.';
  let data: unknown;
  try {
    data = JSON.parse(raw);
  } catch {
    return 'The line is not JSON. Each line must be one event as ullage export events writes it.';
  }
  const parsed = admitEvent(data);
  // Our own lines are as long as what they mean; any other is looked at more closely.
  const odd = parsed.ok && JSON.stringify(data).length === raw.trim().length ? null : oddity(raw);
  if (odd !== null) return odd;
  return parsed.ok
    ? parsed.event
    : `Not an event (${parsed.reason.slice(0, 120)}). Compare it with ullage export events --schema.`;
}

const tokens = /"(?:[^"\\]|\\.)*"|[{}[\],:]/g;

/** What JSON lets pass and no honest line has: brackets in brackets without end, a key twice, a key that is none. */
function oddity(raw: string): string | null {
  const keys: Set<string>[] = [];
  let text = '';
  for (const [token] of raw.matchAll(tokens)) {
    if (token === '{' || token === '[') keys.push(new Set());
    else if (token === '}' || token === ']') keys.pop();
    else if (token.startsWith('"')) text = token;
    else if (token === ':') {
      const key = String(JSON.parse(text === '' ? '""' : text));
      if (forbidden.has(key)) return `The line has the key ${key}, which no event has. Take it out.`;
      if (keys.at(-1)?.has(key) === true)
        return `The line gives ${clean(key).slice(0, 40)} twice. Take one of them out.`;
      keys.at(-1)?.add(key);
    }
    if (keys.length > DEEPEST) return 'The line is nested too deeply to be an event. Take it out.';
  }
  return null;
}
