// The exchanges one after the other: woken by what is recorded and heard, later and later after failures, listening on every new line.
import { expect, it, vi } from 'vitest';
import { done, type Result, refuse } from '../../src/domain/value/problem.ts';
import { type RoundsSetting, startRounds } from '../../src/shell/station/rounds.ts';
import type { Hello, SharedBooks } from '../../src/store/exchange.ts';
import type { Link } from '../../src/store/server/link.ts';

const hello: Hello = {
  now: '2026-11-20T17:00:00.000Z',
  house: 'h',
  houseName: 'Oddtide',
  station: 'bar',
  channel: 'c',
  version: 1,
  arrived: 0,
  stations: [],
  unsafe: [],
};

function fake(more: Partial<RoundsSetting> = {}) {
  const seen = { greetings: 0, rests: 0, listens: 0, opened: 0, closed: 0, rounds: [] as (string | null)[] };
  const state = {
    isAway: false,
    isReplaced: false,
    head: 3,
    whenAsked: (): void => undefined,
    lose: (): void => undefined as undefined,
    hear: (): void => undefined as undefined,
  };
  const books: SharedBooks = {
    heads: () => done([{ station: 'bar', seq: state.head, hash: '' }]),
    rowsAfter: () => done([]),
    hashAt: () => done(null),
    takeIn: () => done(0),
    isReplaced: () => state.isReplaced,
    close: (): void => undefined,
  };
  const open = async (): Promise<Result<Link>> => {
    if (state.isAway) return refuse('server-away', 'away', 69);
    seen.opened += 1;
    return done({
      greet: async (_, rests) => {
        if (state.isAway) return refuse('server-away', 'away', 69);
        seen.greetings += 1;
        if (rests) seen.rests += 1;
        return done({ hello, skewMs: 0 });
      },
      pull: async () => done([]),
      push: async () => done({ seq: 0, hash: '' }),
      bring: async () => done(null),
      listen: async (_, heard) => {
        seen.listens += 1;
        state.whenAsked();
        state.hear = heard;
        return done(null);
      },
      onLost: (lost) => {
        state.lose = lost;
      },
      close: async () => {
        seen.closed += 1;
      },
    });
  };
  const rounds = startRounds({
    station: 'bar',
    books,
    open,
    confirmed: 1,
    random: () => 1,
    onRound: ({ problem }, waiting) => {
      seen.rounds.push(problem?.code ?? null);
      if (waiting > 99) throw new Error('unheard of');
    },
    ...more,
  });
  return { seen, state, rounds };
}
const later = (ms: number): Promise<void> => vi.advanceTimersByTimeAsync(ms).then(() => undefined);

it('looks every quarter of a minute, at once when woken or when something is heard, and once more on leaving', async () => {
  vi.useFakeTimers();
  const { seen, state, rounds } = fake();
  await later(1);
  expect([seen.greetings, seen.listens]).toEqual([2, 1]);
  await later(15_000);
  expect(seen.greetings).toBe(3);
  rounds.wake();
  await later(1);
  expect(seen.greetings).toBe(4);
  state.hear();
  await later(1);
  expect([seen.greetings, seen.listens, seen.opened]).toEqual([5, 1, 1]);
  await rounds.leave();
  expect([seen.rests, seen.closed]).toEqual([1, 1]);
  await later(60_000);
  const after = seen.greetings;
  await later(60_000);
  expect(seen.greetings).toBe(after);
  vi.useRealTimers();
});

it('what was written while it began to listen is looked for at once, and then only when something is heard', async () => {
  vi.useFakeTimers();
  const { seen, state, rounds } = fake();
  let written = 0;
  const found: number[] = [];
  state.whenAsked = () => {
    // Another station writes in that moment; nobody is told of it.
    written = seen.greetings;
  };
  await later(1);
  found.push(seen.greetings - written);
  await later(1000);
  found.push(seen.greetings - written);
  expect(found).toEqual([1, 1]);
  state.lose();
  await later(1);
  expect([seen.greetings - written, seen.listens]).toEqual([1, 2]);
  await rounds.leave();
  vi.useRealTimers();
});

it('a line that is lost is opened anew at once, and listened on again', async () => {
  vi.useFakeTimers();
  const { seen, state, rounds } = fake();
  await later(1);
  const first = state.lose;
  first();
  await later(1);
  expect([seen.opened, seen.listens]).toEqual([2, 2]);
  // What is heard of the old one means nothing any more.
  first();
  await later(1);
  expect(seen.opened).toBe(2);
  await rounds.leave();
  vi.useRealTimers();
});

it('another way to the house is taken with the next round, and what was confirmed there is what counts', async () => {
  vi.useFakeTimers();
  let way: { confirmed: number } | null = null;
  const waiting: number[] = [];
  const { seen, state, rounds } = fake({
    renewed: () => {
      const other = way;
      way = null;
      return other;
    },
    onRound: (_, many) => waiting.push(many),
  });
  await later(1);
  expect([seen.opened, seen.closed]).toEqual([1, 0]);
  way = { confirmed: 2 };
  state.isAway = true;
  rounds.wake();
  await later(1);
  expect([seen.opened, seen.closed, waiting.at(-1)]).toEqual([1, 1, 1]);
  state.isAway = false;
  await later(2000);
  expect([seen.opened, seen.listens]).toEqual([2, 2]);
  await rounds.leave();
  vi.useRealTimers();
});

it('with the server away it waits longer each time, counts what waits when woken, and asks nobody meanwhile', async () => {
  vi.useFakeTimers();
  const { seen, state, rounds } = fake();
  await later(1);
  state.isAway = true;
  rounds.wake();
  await later(1);
  expect(seen.rounds.at(-1)).toBe('server-away');
  const asked = seen.rounds.length;
  rounds.wake();
  rounds.wake();
  await later(1);
  expect(seen.rounds.length).toBe(asked + 2);
  await later(1000);
  expect(seen.rounds.length).toBe(asked + 3);
  await later(1500);
  expect(seen.rounds.length).toBe(asked + 3);
  await later(501);
  expect(seen.rounds.length).toBe(asked + 4);
  state.isAway = false;
  await later(4001);
  expect(seen.rounds.at(-1)).toBeNull();
  await rounds.leave();
  expect(seen.rests).toBe(1);
  vi.useRealTimers();
});

it('leaves at once, without a word, while the server is away; and exchanges nothing once other books stand there', async () => {
  vi.useFakeTimers();
  const away = fake();
  away.state.isAway = true;
  await later(1);
  await away.rounds.leave();
  expect(away.seen.rests).toBe(0);
  const gone = fake();
  await later(1);
  gone.state.isReplaced = true;
  gone.rounds.wake();
  await later(1);
  expect([gone.seen.rounds.at(-1), gone.seen.greetings]).toEqual(['file-gone', 2]);
  await gone.rounds.leave();
  vi.useRealTimers();
});
