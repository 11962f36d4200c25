// The usual night: when an item runs out, before a single drink is poured.
import { describe, expect, it } from 'vitest';
import { outOnUsual, usualOf } from '../../src/domain/service/usual.ts';
import { furnished, type Night, stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });

describe('the usual night', () => {
  /** Four Fridays: twenty gins each from 18 to 22 UTC, 5 an hour; the fourth is 2026-11-20's own history. */
  async function fridays(perHour: readonly number[]): Promise<Night> {
    const night = await furnished('2026-10-23T17:00:00.000Z');
    for (const [week, date] of ['2026-10-23', '2026-10-30', '2026-11-06', '2026-11-13'].entries()) {
      night.at(`${date}T17:30:00.000Z`);
      await night.ok('open --by Ines');
      for (let hour = 18; hour < 22; hour += 1) {
        night.at(`${date}T${hour}:30:00.000Z`);
        await night.ok(`pour ${perHour[week]} gin-straight`);
      }
      night.at(`${date}T23:00:00.000Z`);
      await night.ok('close --seal');
    }
    night.at('2026-11-20T17:00:00.000Z');
    return night;
  }

  it('says when an item runs out before a single drink is poured, with a range from night to night', async () => {
    const night = await fridays([5, 5, 5, 5]);
    // Ten drinks of 40 ml, where a Friday takes twenty from six to ten: half past... the whole hour of eight.
    await night.ok('count dry-gin 0.57');
    night.at('2026-11-20T17:30:00.000Z');
    await night.ok('open --by Ines');
    night.store((store) => {
      const usual = usualOf(store.shiftBooks(90), '2026-11-20');
      expect([usual.weekday, usual.nights]).toEqual(['Fri', 4]);
      expect(Object.fromEntries(usual.byHour)).toEqual({ '18': 0.25, '19': 0.25, '20': 0.25, '21': 0.25 });
      const [out] = outOnUsual(store.books(), usual, '2026-11-20T17:30:00.000Z');
      // 399 of 800 ml are gone at eight; equal nights leave no range.
      expect(out).toMatchObject({
        about: '2026-11-20T20:00:00.000Z',
        earliest: '2026-11-20T20:00:00.000Z',
        latest: '2026-11-20T20:00:00.000Z',
      });
    });
  });

  it('is wider for nights that differ, and may not run out at all', async () => {
    const night = await fridays([2, 8, 3, 7]);
    await night.ok('count dry-gin 0.57');
    night.at('2026-11-20T18:30:00.000Z');
    await night.ok('open --by Ines');
    within(night, (at) => {
      at.app.dispatch({ type: 'tick', now: '2026-11-20T18:31:00.000Z' });
      expect(at.state().usual?.nights).toBe(4);
      expect(at.screen()).toMatch(
        /Dry gin \d+ drinks, on a usual Fri out about 20:[2-5]\d \(19:\d\d to not at all\)/,
      );
    });
  });

  it('is silent with fewer than three nights', async () => {
    const night = await stocked('0.5');
    night.store((store) =>
      expect(
        outOnUsual(store.books(), usualOf(store.shiftBooks(90), '2026-11-20'), night.world.now().toString()),
      ).toEqual([]),
    );
  });
});
