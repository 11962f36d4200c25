// Money: read, written and shared out without a rest.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  apportion,
  currencyExponent,
  formatMoney,
  parseMoney,
  percentOf,
  roundHalfUp,
  valueAtCost,
} from '../../../src/domain/value/money.ts';
import { ratio } from '../../../src/domain/value/ratio.ts';

it('reads and writes money in the currency of the house', () => {
  expect(parseMoney('14.00', 'EUR')).toBe(1400);
  expect(parseMoney('14', 'JPY')).toBe(14);
  expect(parseMoney('1.5', 'KWD')).toBe(1500);
  expect(parseMoney('1.555', 'EUR')).toBeNull();
  expect(parseMoney('-3', 'EUR')).toBeNull();
  expect(formatMoney(-5, 'EUR')).toBe('-0.05');
  expect(formatMoney(1500, 'JPY')).toBe('1500');
  expect(currencyExponent('HUF')).toBe(2);
});

it('round trips any amount', () => {
  fc.assert(
    fc.property(fc.nat(999_999_999), fc.constantFrom('EUR', 'JPY', 'KWD', 'CLF'), (minor, currency) => {
      expect(parseMoney(formatMoney(minor, currency), currency)).toBe(minor);
    }),
  );
});

it('splits without making or losing a cent', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: -1e9, max: 1e9 }),
      fc.array(fc.nat(1e6), { minLength: 1, maxLength: 12 }),
      (total, weights) => {
        expect(apportion(total, weights).reduce((a, b) => a + b, 0)).toBe(total);
      },
    ),
  );
});

it('values once a line, half away from zero', () => {
  expect(valueAtCost(180_000, 1890, 700_000)).toBe(486);
  expect(roundHalfUp(ratio(-5, 2))).toBe(-3);
  expect(percentOf(180_000, 2_920_000, 3)).toBe(6.164);
  expect(percentOf(1, 0, 2)).toBeNull();
});
