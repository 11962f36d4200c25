// Events as JSON Lines, in and out, and their JSON Schema, made from the definition that reads them.
import * as z from 'zod/mini';
import { type Event, eventSchema, parseEvent } from '../../domain/ledger/event.ts';
import { done, type Problem, type Result, refuseAll } from '../../domain/value/problem.ts';

const MOST_PROBLEMS = 20;
const DEEPEST = 20;
const forbidden = new Set(['__proto__', 'constructor', 'prototype']);

export const writeEvent = (event: Event): string => `${JSON.stringify(event)}\n`;

export const eventJsonSchema = (): string => `${JSON.stringify(z.toJSONSchema(eventSchema), null, 2)}\n`;

/** Reads lines of events; every bad line is a problem with its number. */
export function readEvents(text: string): Result<{ events: Event[]; lines: number[] }> {
  const problems: Problem[] = [];
  const events: Event[] = [];
  const lines: number[] = [];
  text.split('\n').forEach((raw, index) => {
    if (raw.trim() === '' || problems.length >= MOST_PROBLEMS) return;
    const read = readLine(raw);
    if (typeof read === 'string')
      problems.push({ code: 'bad-event', exit: 65, line: index + 1, message: read });
    else {
      events.push(read);
      lines.push(index + 1);
    }
  });
  return problems.length > 0 ? refuseAll(problems) : done({ events, lines });
}

function readLine(raw: string): Event | string {
  if (nesting(raw) > DEEPEST) return 'The line is nested too deeply to be an event. Take it out.';
  let data: unknown;
  try {
    data = JSON.parse(raw, (key, value: unknown) => {
      if (forbidden.has(key)) throw new SyntaxError(`the key ${key}`);
      return value;
    });
  } catch {
    return 'The line is not JSON. Each line must be one event as ullage export events writes it.';
  }
  const parsed = parseEvent(data);
  return parsed.ok
    ? parsed.event
    : `Not an event (${parsed.reason.slice(0, 120)}). Compare it with ullage export events --schema.`;
}

/** How deep the brackets go; what stands inside a text is text. */
function nesting(text: string): number {
  let [depth, deepest] = [0, 0];
  for (const char of text.replace(/"(?:[^"\\]|\\.)*"/g, '')) {
    if (char === '{' || char === '[') depth += 1;
    else if (char === '}' || char === ']') depth -= 1;
    if (depth > deepest) deepest = depth;
  }
  return deepest;
}
