// The exchange without a network: every answer in any order it may come, and what each outcome says.
import { describe, expect, it } from 'vitest';
import {
  type Arrived,
  beginExchange,
  type ExchangeEffect,
  type ExchangeInput,
  type Head,
  type Hello,
  type HouseStation,
  type SharedRow,
  skewOf,
  stepExchange,
} from '../../src/store/exchange.ts';
import { notBegun } from '../../src/store/exchange-run.ts';
import { type ExchangeStatus, stationsAway, statusAfter } from '../../src/store/station.ts';

const station = (id: string, more: Partial<HouseStation> = {}): HouseStation => ({
  id,
  name: id,
  of: null,
  mine: id === 'bar',
  resting: false,
  behind: 0,
  known: 0,
  knownBy: null,
  left: false,
  quietMs: 5,
  heardAt: '2026-11-20T17:00:00.000Z',
  seq: 0,
  hash: null,
  next: null,
  ...more,
});
const hello = (stations: readonly HouseStation[], more: Partial<Hello> = {}): Hello => ({
  now: '2026-11-20T17:00:00.000Z',
  house: 'h',
  houseName: 'Oddtide',
  station: 'bar',
  channel: 'c',
  version: 1,
  arrived: 9,
  stations,
  unsafe: [],
  ...more,
});
const row = (name: string, seq: number): SharedRow => ({
  station: name,
  seq,
  body: `${name} ${seq}`,
  hash: `#${name}${seq}`,
});
const arrived = (name: string, seq: number, at: number): Arrived => ({ ...row(name, seq), arrived: at });
const head = (name: string, seq: number): Head => ({ station: name, seq, hash: `#${name}${seq}` });

/** What the machine asks for after each of some answers. */
function play(
  inputs: readonly ExchangeInput[],
  confirmed = 0,
  apart: string | null = null,
): ExchangeEffect[] {
  let { state, effect } = beginExchange('bar', confirmed);
  const effects = [effect];
  for (const input of inputs) {
    ({ state, effect } = stepExchange(state, input));
    // Whether both mean the same is asked after every greeting.
    if (effect.do === 'compare') ({ state, effect } = stepExchange(state, { came: 'compared', apart }));
    effects.push(effect);
  }
  return effects;
}
const ended = (effects: readonly ExchangeEffect[]) => {
  const last = effects.at(-1);
  return last?.do === 'end' ? last.outcome : null;
};

describe('an exchange', () => {
  it('takes in what is lacking from where it begins, then sends what the server lacks, then ends', () => {
    const effects = play([
      { came: 'heads', heads: [head('bar', 3), head('yard', 1)] },
      {
        came: 'hello',
        hello: hello([
          station('bar', { seq: 2, hash: null }),
          station('yard', { seq: 4, hash: '#yard1', next: 6 }),
        ]),
      },
      { came: 'page', rows: [arrived('yard', 2, 6), arrived('yard', 3, 8)] },
      { came: 'taken', added: 2 },
      { came: 'page', rows: [] },
      { came: 'own', rows: [row('bar', 3)] },
      { came: 'pushed', head: { seq: 3, hash: '#bar3' } },
      { came: 'own', rows: [] },
    ]);
    expect(effects.map((effect) => effect.do)).toEqual([
      'read-heads',
      'greet',
      'pull',
      'take-in',
      'pull',
      'read-own',
      'push',
      'read-own',
      'end',
    ]);
    expect(effects[1]).toEqual({ do: 'greet', heads: { bar: 3, yard: 1 } });
    // From just before the first that is lacking; then from after the page.
    expect([effects[2], effects[4]]).toEqual([
      { do: 'pull', after: 5 },
      { do: 'pull', after: 8 },
    ]);
    expect([effects[5], effects[7]]).toEqual([
      { do: 'read-own', station: 'bar', after: 2 },
      { do: 'read-own', station: 'bar', after: 3 },
    ]);
    expect(ended(effects)).toMatchObject({ taken: 2, sent: 1, pushed: 3, lostThere: 0, problem: null });
  });

  it('sends under every name its books were kept under, the server asked for each', () => {
    const effects = play([
      { came: 'heads', heads: [head('bar', 1), head('s-old', 2)] },
      {
        came: 'hello',
        hello: hello([station('bar'), station('s-old', { of: 'bar', mine: true }), station('yard')]),
      },
      { came: 'own', rows: [row('bar', 1)] },
      { came: 'pushed', head: { seq: 1, hash: '#bar1' } },
      { came: 'own', rows: [] },
      { came: 'own', rows: [row('s-old', 1), row('s-old', 2)] },
      { came: 'pushed', head: { seq: 2, hash: '#s-old2' } },
      { came: 'own', rows: [] },
    ]);
    expect(
      effects.flatMap((effect) => (effect.do === 'read-own' ? [`${effect.station} ${effect.after}`] : [])),
    ).toEqual(['bar 0', 'bar 1', 's-old 0', 's-old 2']);
    expect(ended(effects)).toMatchObject({ sent: 3, pushed: 1, problem: null });
  });

  it('takes its own back first when the file here is older than the server', () => {
    const effects = play(
      [
        { came: 'heads', heads: [head('bar', 1)] },
        { came: 'hello', hello: hello([station('bar', { seq: 3, hash: '#bar1', next: 2 })]) },
        { came: 'page', rows: [arrived('bar', 2, 2), arrived('bar', 3, 3)] },
        { came: 'taken', added: 2 },
        { came: 'page', rows: [] },
        { came: 'own', rows: [] },
      ],
      3,
    );
    expect(effects.map((effect) => effect.do)).toEqual([
      'read-heads',
      'greet',
      'pull',
      'take-in',
      'pull',
      'read-own',
      'end',
    ]);
    expect(ended(effects)).toMatchObject({ taken: 2, lostThere: 0, pushed: 3 });
  });

  it('says how many the server lost that it had confirmed', () => {
    const effects = play(
      [
        { came: 'heads', heads: [head('bar', 8)] },
        { came: 'hello', hello: hello([station('bar', { seq: 2 })]) },
      ],
      7,
    );
    expect(effects.at(-1)).toEqual({ do: 'read-own', station: 'bar', after: 2 });
    const outcome = play(
      [
        { came: 'heads', heads: [head('bar', 8)] },
        { came: 'hello', hello: hello([station('bar', { seq: 2 })]) },
        { came: 'own', rows: [] },
      ],
      7,
    );
    expect(ended(outcome)?.lostThere).toBe(5);
    // What stands here no more was not lost there alone: the file here was put back, too.
    const both = play(
      [
        { came: 'heads', heads: [head('bar', 4)] },
        { came: 'hello', hello: hello([station('bar', { seq: 2 })]) },
        { came: 'own', rows: [] },
      ],
      7,
    );
    expect(ended(both)?.lostThere).toBe(2);
  });

  it('stops where both sides hold another event under one number, or another name, before anything is taken or sent', () => {
    const begun = [
      { came: 'heads', heads: [head('bar', 1), head('yard', 5)] },
      { came: 'hello', hello: hello([station('bar'), station('yard', { seq: 3, hash: '#yard3' })]) },
    ] as const;
    const apart = play(begun, 0, 'yard');
    expect([apart.map((effect) => effect.do), ended(apart)?.problem?.code]).toEqual([
      ['read-heads', 'greet', 'end'],
      'shared-forked',
    ]);
    const other = play([begun[0], { came: 'hello', hello: hello([station('bar')], { station: 'yard' }) }]);
    expect([other.map((effect) => effect.do), ended(other)?.problem?.code]).toEqual([
      ['read-heads', 'greet', 'end'],
      'other-station',
    ]);
  });

  it('compares at the last number that both sides hold, whichever is longer', () => {
    const { state } = stepExchange(beginExchange('bar', 0).state, {
      came: 'heads',
      heads: [head('bar', 4), head('yard', 5), head('new', 2)],
    });
    const { effect } = stepExchange(state, {
      came: 'hello',
      hello: hello([
        station('bar', { seq: 6, hash: '#bar4' }),
        station('yard', { seq: 3, hash: '#yard3' }),
        station('new'),
      ]),
    });
    expect(effect).toEqual({
      do: 'compare',
      held: [
        { station: 'bar', seq: 4, hash: '#bar4' },
        { station: 'yard', seq: 3, hash: '#yard3' },
      ],
    });
  });

  it('what can’t be taken in keeps nothing of its own back; what stands here alone is told', () => {
    const problem = { code: 'shared-unreadable', message: 'none', exit: 78 } as const;
    const effects = play([
      { came: 'heads', heads: [head('bar', 1), head('yard', 5)] },
      {
        came: 'hello',
        hello: hello([station('bar'), station('yard', { seq: 3 }), station('new', { seq: 1, next: 7 })]),
      },
      { came: 'page', rows: [arrived('new', 1, 7)] },
      { came: 'failed', problem },
      { came: 'own', rows: [row('bar', 1)] },
      { came: 'pushed', head: { seq: 1, hash: '#bar1' } },
      { came: 'own', rows: [] },
    ]);
    expect(effects.slice(3).map((effect) => effect.do)).toEqual([
      'take-in',
      'read-own',
      'push',
      'read-own',
      'end',
    ]);
    expect(ended(effects)).toMatchObject({ sent: 1, problem, lacking: [{ station: 'yard', many: 2 }] });
  });

  it('holds what the server says it holds against what was sent', () => {
    const sent = (head_: { seq: number; hash: string }) =>
      ended(
        play([
          { came: 'heads', heads: [head('bar', 2)] },
          { came: 'hello', hello: hello([station('bar')]) },
          { came: 'own', rows: [row('bar', 1), row('bar', 2)] },
          { came: 'pushed', head: head_ },
        ]),
      )?.problem?.code;
    expect(sent({ seq: 2, hash: 'other' })).toBe('shared-forked');
    expect(sent({ seq: 0, hash: '' })).toBe('not-taken');
    expect(sent({ seq: 1, hash: '#bar1' })).toBeUndefined();
  });

  it('ends with whatever fails, and keeps what was done', () => {
    const problem = { code: 'server-away', message: 'away', exit: 69 } as const;
    const inputs: ExchangeInput[] = [
      { came: 'heads', heads: [] },
      { came: 'hello', hello: hello([station('bar'), station('yard', { seq: 2, next: 1 })]) },
      { came: 'page', rows: [arrived('yard', 1, 1)] },
      { came: 'taken', added: 1 },
    ];
    for (let many = 0; many <= inputs.length; many += 1) {
      const outcome = ended(play([...inputs.slice(0, many), { came: 'failed', problem }]));
      expect(outcome).toMatchObject({ problem, taken: many === inputs.length ? 1 : 0 });
    }
  });
});

it('the skew of a clock is measured from the middle of the question', () => {
  const server = '2026-11-20T17:00:00.000Z';
  const at = Date.parse(server);
  expect(skewOf(server, at - 100, at + 100)).toBe(0);
  expect(skewOf(server, at + 2900, at + 3100)).toBe(3000);
  expect(skewOf(server, at - 5100, at - 4900)).toBe(-5000);
});

describe('how a station stands', () => {
  const at = (minute: number): string => `2026-11-20T17:${String(minute).padStart(2, '0')}:00.000Z`;
  const inStep = statusAfter(
    null,
    {
      ...notBegun({ code: '', message: '', exit: 69 }, 4),
      problem: null,
      hello: hello([
        station('bar'),
        station('yard'),
        station('off', { resting: true }),
        station('s-old', { of: 'bar' }),
        station('gone', { left: true }),
      ]),
    },
    at(0),
    0,
  );
  const away = (before: ExchangeStatus, minute: number): ExchangeStatus =>
    statusAfter(
      before,
      notBegun({ code: 'server-away', message: 'away', exit: 69 }, before.confirmed),
      at(minute),
      2,
    );

  it('is in step since the last exchange, and apart since then once one fails', () => {
    expect(inStep).toMatchObject({ at: at(0), since: null, house: 'Oddtide', confirmed: 4 });
    const first = away(inStep, 5);
    expect(first).toMatchObject({ at: at(0), since: at(0), waiting: 2, confirmed: 4 });
    expect(away(first, 9)).toMatchObject({ since: at(0) });
    expect(inStep.stations.map(({ id }) => id)).toEqual(['yard', 'off']);
  });

  it('others are away when the server is and they were at work, or when it has not heard them', () => {
    expect(stationsAway(inStep, at(0))).toEqual([]);
    // Also those that rested when they were heard: who came to work since is known to nobody.
    expect(stationsAway(away(inStep, 5), at(5)).map(({ id }) => id)).toEqual(['yard', 'off']);
    expect(stationsAway(away(inStep, 5), '2026-11-22T17:05:00.000Z')).toEqual([]);
    const quiet = { ...inStep, stations: inStep.stations.map((one) => ({ ...one, quietMs: 70_000 })) };
    expect(stationsAway(quiet, at(0)).map(({ id }) => id)).toEqual(['yard']);
    // What was known an hour ago says nothing of now.
    expect(stationsAway(inStep, at(59)).map(({ id }) => id)).toEqual(['yard', 'off']);
    // One that held something back is away, though it rests.
    const behind = {
      ...inStep,
      stations: inStep.stations.map((one) => ({ ...one, behind: one.id === 'off' ? 2 : 0 })),
    };
    expect(stationsAway(behind, at(0)).map(({ id }) => id)).toEqual(['off']);
    const never = { ...quiet, stations: quiet.stations.map((one) => ({ ...one, heardAt: null })) };
    expect(stationsAway(never, at(0))).toEqual([]);
  });
});
