// Watches the wall clock: against one that is never set while the rooms are open, and against the last entry.
import { clockBehind, JUMP_MS, spanText } from '../../domain/intent/moment.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { clockText, instantOf, wallTime } from '../../domain/value/clock-date.ts';

export type ClockWatch = {
  /** What speaks against the clock, in words; null when nothing does, or when somebody said that it is right. */
  readonly doubt: (books: Books) => string | null;
  /** Somebody looked, and it is right. */
  readonly trust: (books: Books) => void;
};

export function clockWatch(wall: () => number, steady: () => number): ClockWatch {
  let base = { wall: wall(), steady: steady() };
  let trusted = '';
  const jumpOf = (): number => wall() - base.wall - (steady() - base.steady);
  return {
    doubt: (books) => {
      const jump = jumpOf();
      if (Math.abs(jump) > JUMP_MS) return jumpText(jump, wall(), books);
      return (books.last?.at ?? '') <= trusted ? null : clockBehind(books, instantOf(wall()));
    },
    trust: (books) => {
      base = { wall: wall(), steady: steady() };
      trusted = books.last?.at ?? '';
    },
  };
}

function jumpText(jump: number, now: number, { house }: Books): string {
  const at = instantOf(now);
  const shown = `${clockText(at, house.zone)} on ${wallTime(at, house.zone).date}`;
  return `The clock went ${spanText(jump)} ${jump > 0 ? 'ahead' : 'back'} while the rooms were open (or this computer slept): it shows ${shown}.`;
}
