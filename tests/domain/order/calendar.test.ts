// When to order and when it comes.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newSupplier } from '../../../src/domain/card/supplier-card.ts';
import { type Supplier, type Weekday, weekdays } from '../../../src/domain/catalogue/supplier.ts';
import { emptyBooks } from '../../../src/domain/ledger/books.ts';
import { dayNamed, nextDelivery, nightsBetween, weekdayOf } from '../../../src/domain/order/calendar.ts';
import { orderSetting } from '../../../src/domain/order/past.ts';
import { addDays } from '../../../src/domain/value/clock-date.ts';

const supplier = (part: Partial<Supplier>): Supplier => ({ ...newSupplier('Quay'), ...part });

describe('the next delivery that can still be ordered', () => {
  // 2026-11-26 is a Thursday.
  it.each([
    ['before the cut-off', '2026-11-26', '14:59', '2026-11-26', '2026-11-27', '2026-12-01'],
    ['after it: the next order day', '2026-11-26', '15:01', '2026-11-30', '2026-12-01', '2026-12-04'],
    ['between order days', '2026-11-28', '10:00', '2026-11-30', '2026-12-01', '2026-12-04'],
  ])('%s', (_, today, clock, orderBy, deliveryAt, coversUntil) => {
    const quay = supplier({ orderDays: ['mon', 'thu'], cutOff: '15:00', deliveryDays: ['tue', 'fri'] });
    expect(nextDelivery(quay, today, clock)).toEqual({ orderBy, deliveryAt, coversUntil });
  });

  it('a delivery is never on the order day, and later where it needs longer', () => {
    const daily = supplier({ deliveryDays: ['thu'] });
    expect(nextDelivery(daily, '2026-11-26', '08:00').deliveryAt).toBe('2026-12-03');
    const slow = supplier({ orderDays: ['thu'], deliveryDays: ['fri'], leadDays: 3 });
    expect(nextDelivery(slow, '2026-11-26', '08:00').deliveryAt).toBe('2026-12-04');
  });

  it('holds for any days: ordered not before today, comes after it, and the one after comes later', () => {
    const days = fc.subarray([...weekdays]) as fc.Arbitrary<Weekday[]>;
    fc.assert(
      fc.property(
        days,
        days,
        fc.integer({ min: 0, max: 400 }),
        fc.option(fc.integer({ min: 0, max: 10 })),
        (orderDays, deliveryDays, shift, leadDays) => {
          const today = addDays('2026-01-01', shift);
          const one = supplier({ orderDays, deliveryDays, leadDays, cutOff: '12:00' });
          for (const clock of ['11:00', '13:00']) {
            const { orderBy, deliveryAt, coversUntil } = nextDelivery(one, today, clock);
            expect(orderBy >= today && deliveryAt > orderBy && coversUntil > deliveryAt).toBe(true);
            if (orderDays.length > 0) expect(orderDays).toContain(weekdays[weekdayOf(orderBy)]);
            if (deliveryDays.length > 0) expect(deliveryDays).toContain(weekdays[weekdayOf(deliveryAt)]);
          }
        },
      ),
    );
  });
});

it('counts the nights up to the day before a delivery; weekdays as ISO 8601', () => {
  expect(nightsBetween('2026-11-26', '2026-11-29')).toEqual(['2026-11-26', '2026-11-27', '2026-11-28']);
  expect(['2026-11-23', '2026-11-29'].map(weekdayOf)).toEqual([0, 6]);
});

it('a day by its name is the next of that name, today too', () => {
  // 2026-11-26 is a Thursday.
  expect(
    ['thu', 'Thursday', 'wed', 'tomorrow', '2026-12-31'].map((text) => dayNamed(text, '2026-11-26')),
  ).toEqual(['2026-11-26', '2026-11-26', '2026-12-02', '2026-11-27', '2026-12-31']);
  expect(['th', 'syrup', '31.12.', ''].map((text) => dayNamed(text, '2026-11-26'))).toEqual([
    null,
    null,
    null,
    null,
  ]);
});

it('after midnight the day before is over for a supplier, though the night is not', () => {
  const quay = supplier({ orderDays: ['mon', 'thu'], cutOff: '16:00', deliveryDays: ['tue', 'fri'] });
  const books = { ...emptyBooks, suppliers: new Map([[quay.id, quay]]) };
  const past = { uses: [], poured: [], house: new Set<never>(), hours: [] };
  const { today, clock } = orderSetting(books, past, '2026-11-27T03:25:00.000Z');
  expect(nextDelivery(quay, today, clock).orderBy).toBe('2026-11-30');
});
