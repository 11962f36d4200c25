// Expected against counted, with its ±. Rules: NIST TN 1297 (1994) 4.2–4.6, EURACHEM/CITAC QUAM appendix E.1, NIST
// e-Handbook 2.5.7 (k = 2); the worked bottle is our own (computed).
import { describe, expect, it } from 'vitest';
import { roundToUncertainty } from '../../src/domain/catalogue/display.ts';
import { newHouse } from '../../src/domain/catalogue/house.ts';
import type { Item } from '../../src/domain/catalogue/item.ts';
import { parseReading } from '../../src/domain/count/reading.ts';
import { judge } from '../../src/domain/count/variance.ts';
import type { CountMark, Period } from '../../src/domain/ledger/books.ts';
import { items } from '../support/events.ts';

const gin: Item = { ...(items[0] as Item), tareMilligrams: 480_000 };

function mark(text: string, event: string): CountMark {
  const reading = parseReading(text, gin, newHouse);
  if (!reading.ok) throw new Error(reading.problems[0]?.message);
  const { amount, deviation, densityDeviation, method } = reading.value;
  return {
    event: event as never,
    at: '',
    by: null,
    shift: null,
    reading: text,
    method,
    amount,
    deviation,
    densityDeviation,
  };
}
const period = (from: CountMark, to: CountMark, pours: number, poured: number): Period => ({
  item: gin.id,
  place: 'bar',
  from,
  to,
  flows: {
    received: 0,
    movedIn: 0,
    movedOut: 0,
    poured,
    lost: 0,
    made: 0,
    prepped: 0,
    pours,
    by: new Map(),
    bySpec: new Map(),
    as: {},
    why: {},
  },
});

describe('one 700 ml bottle, 0.8 -> 0.3, eight pours of 40 ml: 30 ml missing', () => {
  it('a tenth by eye: u = 70/(2√3) = 20.2072594 ml; 21.651 of 750, 28.868 of a litre', () => {
    expect(mark('0.8', 'a').deviation).toBe(20_207);
    const of = (size: number): number => {
      const reading = parseReading('0.8', { ...gin, size }, newHouse);
      return reading.ok ? reading.value.deviation : 0;
    };
    expect([of(750_000), of(1_000_000)]).toEqual([21_651, 28_868]);
  });

  it('by eye: u(V) = 28.891, U = 57.8 ml, within count error', () => {
    const judged = judge([period(mark('0.8', 'a'), mark('0.3', 'b'), 8, 320_000)], gin, newHouse);
    expect(judged.missing).toBe(30_000);
    expect(judged.uncertainty / 2000).toBeCloseTo(28.891, 2);
    expect(judged.verdict).toBe('within-count-error');
    expect(roundToUncertainty(judged.missing, judged.uncertainty)).toEqual({
      missing: '30',
      uncertainty: '58',
    });
  });

  it('in 10 ml marks: U = 11.8 ml, real', () => {
    const judged = judge([period(mark('560ml', 'a'), mark('210ml', 'b'), 8, 320_000)], gin, newHouse);
    expect(judged.uncertainty / 1000).toBeCloseTo(11.776, 2);
    expect(judged.verdict).toBe('real');
  });

  it('weighed to 1 g: U = 9.44 ml, the density common to both weighings, real', () => {
    const gross = (ml: number): string => `${(480 + (ml * 948.0485) / 1000).toFixed(3)}g`;
    const judged = judge([period(mark(gross(560), 'a'), mark(gross(210), 'b'), 8, 320_000)], gin, newHouse);
    expect(judged.missing).toBeGreaterThan(29_900);
    expect(judged.uncertainty / 1000).toBeCloseTo(9.44, 1);
    expect(judged.verdict).toBe('real');
  });

  it('seven nights telescope: the readings in between cancel, U = 61.4 ml and not 152.9', () => {
    const marks = Array.from({ length: 8 }, (_, night) => mark(`0.${9 - night}`, String(night)));
    const week = marks.slice(1).map((to, night) => period(marks[night] as CountMark, to, 8, 40_000));
    expect(judge(week, gin, newHouse).uncertainty / 1000).toBeCloseTo(61.4, 1);
    const naive = Math.sqrt(
      week.map((one) => (judge([one], gin, newHouse).uncertainty / 1000) ** 2).reduce((a, b) => a + b, 0),
    );
    expect(naive).toBeGreaterThan(150);
  });

  it('forty open bottles by eye: the whole bar is ±361 ml', () => {
    const one = (20.2072594 * Math.SQRT2 * 2) ** 2;
    expect(Math.sqrt(40 * one)).toBeCloseTo(361.5, 0);
  });
});
