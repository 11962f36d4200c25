// Which event "take back the last" means.
import { expect, it } from 'vitest';
import { describeEvent } from '../../src/domain/ledger/describe.ts';
import { lastToTakeBack, takeBackOne } from '../../src/store/last.ts';
import { furnished, type Night } from '../support/night.ts';
import { openRooms } from '../support/rooms.ts';
import { codesOf, messagesOf, must } from '../support/shelf.ts';

const last = (night: Night): string | null =>
  night.store((store) => {
    const books = store.books();
    const found = lastToTakeBack(store, books);
    return found === null ? null : describeEvent(found.event, books);
  });
const took = (night: Night, id: string | null = null): string =>
  night.store((store) => describeEvent(must(takeBackOne(store, id)).took[0], store.books()));

it('is nothing while only the house was written', async () => {
  const night = await furnished();
  expect(last(night)).toBeNull();
  expect(night.store((store) => takeBackOne(store, null).ok)).toBe(false);
});

it('goes back pour by pour, past what was taken back already', async () => {
  const night = await furnished();
  await night.ok('open');
  await night.ok('pour', 'lantern sour');
  await night.ok('pour 2', 'rye lamp');
  expect(took(night)).toBe('Poured 2 Rye Lamp');
  expect(took(night)).toBe('Poured 1 Lantern Sour');
  expect(last(night)).toBe('Opened the shift of Fri 20 Nov');
});

it('passes over what was written of the house in between', async () => {
  const night = await furnished();
  await night.ok('open');
  await night.ok('pour', 'rye lamp');
  await night.ok('house units cl');
  await night.ok('people add Kim');
  expect(last(night)).toBe('Poured 1 Rye Lamp');
});

it('never reaches behind a seal', async () => {
  const night = await furnished();
  await night.ok('open');
  await night.ok('pour', 'rye lamp');
  night.later(60);
  await night.ok('close --seal');
  expect(last(night)).toBeNull();
  night.later(60);
  await night.ok('receive 1 rye');
  expect(last(night)).toBe('Received 1 × Straight rye at bar');
});

it('finds a pour behind a thousand lines of the till', async () => {
  const night = await furnished();
  await night.ok('open');
  await night.ok('pour', 'rye lamp');
  night.later(60);
  night.store((store) =>
    store.record(() => ({
      ok: true,
      value: Array.from({ length: 1200 }, () => ({
        kind: 'drink-sold' as const,
        shift: null,
        by: null,
        drink: 'Rye Lamp',
        count: 1,
        soldAt: '2026-11-20T17:30:00.000Z',
        priceMinor: null,
        seller: null,
      })),
    })),
  );
  expect(last(night)).toBe('Poured 1 Rye Lamp');
});

it('says which id it does not know', async () => {
  const night = await furnished();
  const result = night.store((store) => takeBackOne(store, 'no-such-id'));
  expect(codesOf(result)).toEqual(['unknown-event']);
  expect(messagesOf(result)).toEqual(['No event has the id "no-such-id". Run ullage log to see the ids.']);
});

it('in the rooms is never what another window records meanwhile', async () => {
  const night = await furnished();
  await night.ok('open');
  await night.ok('pour', 'rye lamp');
  const elsewhere = (text: string) =>
    night.store((store) => openRooms(store, night.world.now).press(text, 'enter'));
  night.store((store) => {
    const at = openRooms(store, night.world.now);
    elsewhere('3 rye lamp');
    at.press('lan', 'enter');
    elsewhere('5 rye lamp');
    at.press('ctrl-u');
    expect(at.screen()).toContain('Took back: Poured 1 Lantern Sour');
    // Its own are gone: next what stood there when it opened.
    at.press('ctrl-u');
    expect(at.screen()).toContain('Took back: Poured 1 Rye Lamp');
  });
  expect(last(night)).toBe('Poured 5 Rye Lamp');
});
