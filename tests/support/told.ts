// Steps become events and books. Every step is checked by the schema of events, so a test can't rest on an event that could
// never be recorded.

import { type Books, emptyBooks } from '../../src/domain/ledger/books.ts';
import type { Event } from '../../src/domain/ledger/event.ts';
import { parseEvent } from '../../src/domain/ledger/event-door.ts';
import type { EventId } from '../../src/domain/value/ids.ts';
import { foldEvents } from './fold.ts';
import { eventIdOf } from './shelf.ts';
import type { Step } from './steps.ts';

/** Steps a minute apart from 18:00 UTC on 20 Nov 2026, each noted under the shift that is open then. */
export function told(...steps: readonly (Step | readonly Step[])[]): Event[] {
  let epoch = Date.parse('2026-11-20T18:00:00.000Z');
  let shift: EventId | null = null;
  return steps.flat().map((step, index) => {
    const id = eventIdOf(index + 1);
    epoch = step.at === undefined ? epoch + 60_000 : Date.parse(step.at);
    const isOpening = step.kind === 'shift-opened';
    const data = {
      id,
      at: new Date(epoch).toISOString(),
      station: 'a',
      seq: index + 1,
      shift: isOpening ? null : shift,
      by: null,
      ...(step.kind === 'shift-sealed' ? { of: shift } : {}),
      ...step,
    };
    if (isOpening) shift = id;
    if (step.kind === 'shift-sealed') shift = null;
    const read = parseEvent({ ...data, at: new Date(epoch).toISOString() });
    if (!read.ok) throw new Error(`step ${index + 1}, ${step.kind}: ${read.reason}`);
    return read.event;
  });
}

export const booksAfter = (...steps: readonly (Step | readonly Step[])[]): Books =>
  foldEvents(emptyBooks, told(...steps));
