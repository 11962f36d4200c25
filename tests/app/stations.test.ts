// What the rooms show of other stations: nothing while in step, what is kept here, a clock that is off; whose last drink it was; and
// the names that a seal asks for.
import { expect, it } from 'vitest';
import { createApp } from '../../src/app/run.ts';
import { intendSeal } from '../../src/domain/intent/intend-shift.ts';
import type { ShiftBooks } from '../../src/domain/ledger/books.ts';
import { apartText } from '../../src/screens/frame/standing.ts';
import { placeText } from '../../src/screens/parts/place.ts';
import type { HouseStanding } from '../../src/screens/room.ts';
import { LOOK_MS, waitAfter } from '../../src/shell/station/rounds.ts';
import { outageText } from '../../src/shell/station/standing.ts';
import type { ExchangeStatus } from '../../src/store/station.ts';
import { openNight, stocked } from '../support/night.ts';
import { type Rooms, roomsOn, walkTo } from '../support/rooms.ts';

const inStep: HouseStanding = {
  name: 'Oddtide',
  station: 'test',
  isInStep: true,
  waiting: 0,
  skewMs: 0,
  away: [],
};
const apart: HouseStanding = { ...inStep, isInStep: false, waiting: 14 };

async function inRooms(
  house: HouseStanding | null,
  work: (at: Rooms, woken: () => number) => void | Promise<void>,
  size = { columns: 100, rows: 24 },
): Promise<void> {
  const night = await stocked();
  await night.store((store) => {
    let woken = 0;
    const onRecorded = (): void => {
      woken += 1;
    };
    const app = createApp(store, night.world.now, size, () => undefined, { house, onRecorded });
    return work(roomsOn(app), () => woken);
  });
}

it('says nothing while in step, else what is kept here and how far the clock is off', () => {
  expect([null, inStep, apart].map((one) => apartText(one))).toEqual(['', '', 'kept here: 14']);
  expect(apartText({ ...inStep, skewMs: 2400 })).toBe('2 s ahead');
  expect(apartText({ ...apart, skewMs: -61_000 })).toBe('kept here: 14  61 s behind');
  expect(apartText({ ...inStep, skewMs: 1999 })).toBe('');
  const shift = { sealedAt: null, pouring: null } as unknown as ShiftBooks;
  expect(apartText(apart, shift)).toBe('kept here: 14  nobody pouring');
  expect(apartText(null, shift)).toBe('');
});

it('a place is told of what another station did, and a long name leaves room for what', () => {
  expect(placeText(inStep, 'test')).toBe('');
  expect(placeText(null, 'bar')).toBe('');
  expect(placeText(inStep, 'upstairs')).toBe('@upstairs ');
  expect(placeText(inStep, 'the-second-well-behind-the-stairs')).toBe('@the-second-we… ');
});

it('what the server has not of another station is said, and nothing of a server that is away', () => {
  const status: ExchangeStatus = {
    house: 'Oddtide',
    at: null,
    since: null,
    confirmed: 0,
    waiting: 0,
    skewMs: 0,
    problem: null,
    stations: [],
  };
  expect(outageText(status)).toBeNull();
  expect(outageText({ ...status, lacking: [{ station: 'yard', many: 3 }] })).toMatch(
    /^Of station yard 3 events stand here/,
  );
  expect(outageText({ ...status, problem: { code: 'server-away', message: 'away', exit: 69 } })).toBeNull();
});

it.each([60, 80, 120, 200])('the head line has it in a window of %d columns', (columns) =>
  inRooms(
    apart,
    (at) => {
      expect(at.rows()[0]).toContain('kept here: 14');
      expect(at.rows()[0]).toHaveLength(columns);
      at.app.dispatch({ type: 'house', house: inStep });
      expect(at.rows()[0]).not.toContain('kept here');
    },
    { columns, rows: 16 },
  ),
);

it('a station that begins its house is offered the name it has on the server', async () => {
  const night = openNight();
  night.store((store) => {
    const at = roomsOn(
      createApp(store, night.world.now, { columns: 100, rows: 24 }, () => undefined, { house: inStep }),
    );
    expect(at.screen()).toContain('Enter alone: Oddtide');
  });
});

it('what is recorded wakes the exchange; what is only looked at does not', () =>
  inRooms(inStep, (at, woken) => {
    at.press('lantern');
    walkTo(at, 'levels');
    walkTo(at, 'pour');
    expect(woken()).toBe(0);
    at.press('enter');
    expect(woken()).toBe(1);
    at.press('ctrl-u');
    expect(woken()).toBe(2);
  }));

it('a seal asks for the names of those away, in any case and with or without commas', () =>
  inRooms(
    {
      ...apart,
      away: [
        { id: 'upstairs', name: 'Upstairs', since: '2026-11-20T17:10:00.000Z' },
        { id: 'well-2', name: 'Well 2', since: null },
      ],
    },
    (at) => {
      walkTo(at, 'close');
      at.press('ctrl-x');
      const asked = at.screen().replace(/\s+/g, ' ');
      expect(asked).toMatch(
        /Not in step: Upstairs since \d\d:\d\d, Well 2\. What comes from there later stands beside this report/,
      );
      expect(asked).toContain('Type seal without Upstairs, Well 2');
      at.press('seal', 'enter');
      expect(at.screen()).toContain('Type seal without Upstairs, Well 2');
      expect(at.state().dialog?.kind).toBe('seal');
      at.press(' WITHOUT upstairs well 2', 'enter');
      expect(at.state().books.shift?.sealedAt).not.toBeNull();
    },
  ));

it('with everybody in step a seal asks for its one word', () =>
  inRooms(inStep, (at) => {
    walkTo(at, 'close');
    at.press('ctrl-x');
    expect(at.screen()).not.toContain('Not in step');
    at.press('seal', 'enter');
    expect(at.state().books.shift?.sealedAt).not.toBeNull();
  }));

it('another station’s drink is shown with its place, and is not what ^R pours again', () =>
  inRooms({ ...inStep, station: 'yard' }, (at) => {
    at.press('lantern', 'enter');
    expect(at.screen()).toContain('@test Lantern Sour');
    at.press('ctrl-r');
    expect(at.screen()).not.toMatch(/2 .*Lantern Sour|Lantern Sour.*@test Lantern Sour/);
  }));

it('after a failure it waits longer each time, up to a minute, and no two stations alike', () => {
  expect([1, 2, 3, 7, 20].map((failures) => waitAfter(failures, 1))).toEqual([
    1000, 2000, 4000, 60_000, 60_000,
  ]);
  expect(waitAfter(3, 0)).toBe(2000);
  expect(LOOK_MS).toBe(15_000);
});

it('a seal that is being asked for gives way when the shift is sealed elsewhere', async () => {
  const night = await stocked();
  night.store((store) => {
    const app = createApp(store, night.world.now, { columns: 80, rows: 24 }, () => undefined, {
      house: inStep,
    });
    const at = roomsOn(app);
    walkTo(at, 'close');
    at.press('ctrl-x', 'sea');
    expect(at.state().dialog?.kind).toBe('seal');
    store.record((books, now) => intendSeal(books, { by: null, now, sure: true }));
    app.dispatch({ type: 'books', books: store.books() });
    expect([at.state().dialog, at.screen()]).toEqual([
      null,
      expect.stringContaining('sealed elsewhere meanwhile'),
    ]);
  });
});
