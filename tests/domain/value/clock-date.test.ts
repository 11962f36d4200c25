// Clocks and dates: business dates, moments written by hand, hours that come twice or never.
import { describe, expect, it } from 'vitest';
import {
  businessDate,
  clockText,
  epochOf,
  instantOfWall,
  isDate,
  parseInstant,
} from '../../../src/domain/value/clock-date.ts';

describe('the business date (RFC 5545 and OMG/ARTS BusinessDay; expected values computed)', () => {
  it.each([
    ['2026-10-25T00:30:00.000Z', 'Europe/London', '2026-10-24'],
    ['2026-10-25T01:30:00.000Z', 'Europe/London', '2026-10-24'],
    ['2026-10-25T05:59:59.000Z', 'Europe/London', '2026-10-24'],
    ['2026-10-25T06:00:00.000Z', 'Europe/London', '2026-10-25'],
    ['2026-11-01T05:30:00.000Z', 'America/New_York', '2026-10-31'],
    ['2026-11-01T06:30:00.000Z', 'America/New_York', '2026-10-31'],
    ['2027-01-01T02:00:00.000Z', 'Europe/London', '2026-12-31'],
    ['2028-03-01T03:00:00.000Z', 'Europe/London', '2028-02-29'],
  ])('%s in %s', (instant, zone, date) => expect(businessDate(instant, zone, 6)).toBe(date));
});

it.each([
  '2026-11-20T22:41:00',
  '2026-13-01T00:00:00Z',
  '2026-02-30T00:00:00Z',
  'yesterday',
  '',
  '2026-11-20',
  '2026-11-20T25:00:00Z',
])('refuses %j as an instant', (text) => {
  expect(parseInstant(text)).toBeNull();
});

it('reads offsets', () => {
  expect(parseInstant('2026-11-20T22:41:00+01:00')).toBe('2026-11-20T21:41:00.000Z');
  expect(clockText('2026-11-20T21:41:00.000Z', 'Europe/Berlin')).toBe('22:41');
  expect(isDate('2026-02-30')).toBe(false);
});

describe('a night over a clock change (expected values computed, 2026)', () => {
  it('the same wall time an hour apart is told apart, and stands in the order it happened', () => {
    expect(
      ['2026-10-25T00:30:00.000Z', '2026-10-25T01:30:00.000Z'].map((at) => clockText(at, 'Europe/London')),
    ).toEqual(['01:30', '01:30 (2nd)']);
    expect(clockText('2026-10-25T02:30:00.000Z', 'Europe/London')).toBe('02:30');
    expect(clockText('2026-04-04T15:15:00.000Z', 'Australia/Lord_Howe')).toBe('01:45 (2nd)');
  });
  it.each([
    ['2026-10-24', '2026-10-25', 9.5],
    ['2026-03-28', '2026-03-29', 7.5],
  ])('18:00 on %s to 02:30 on %s takes %f hours', (from, to, hours) => {
    const [start, end] = [
      instantOfWall(`${from} 18:00`, 'Europe/London'),
      instantOfWall(`${to} 02:30`, 'Europe/London'),
    ];
    expect((epochOf(end as string) - epochOf(start as string)) / 3_600_000).toBe(hours);
  });
});
