// The one way to remember: as long as everything it was worked out from is the very same.
import { expect, it } from 'vitest';
import { memoBy } from '../../../src/domain/value/memo.ts';

/** A sum that counts how often it was really worked out. */
function counted() {
  let made = 0;
  const sum = memoBy(
    (list: readonly number[], times: number) => [list, times],
    (list, times) => {
      made += 1;
      return list.reduce((total, value) => total + value, 0) * times;
    },
  );
  return { sum, made: () => made };
}

it('works a thing out once for the same parts', () => {
  const { sum, made } = counted();
  const list = [1, 2, 3];
  expect([sum(list, 2), sum(list, 2), made()]).toEqual([12, 12, 1]);
});

it('works it out anew when any part is another, also one that looks the same', () => {
  const { sum, made } = counted();
  const list = [1, 2, 3];
  sum(list, 2);
  expect([sum(list, 3), made()]).toEqual([18, 2]);
  expect([sum([1, 2, 3], 3), made()]).toEqual([18, 3]);
});

it('keeps one result an anchor, the newest', () => {
  const { sum, made } = counted();
  const list = [1];
  sum(list, 1);
  sum(list, 2);
  sum(list, 1);
  expect(made()).toBe(3);
});

it('remembers for several anchors at a time', () => {
  const { sum, made } = counted();
  const [one, other] = [[1], [2]];
  sum(one, 1);
  sum(other, 1);
  sum(one, 1);
  sum(other, 1);
  expect(made()).toBe(2);
});

it('remembers nothing and not-a-number as what they are', () => {
  let made = 0;
  const nothing = memoBy(
    (anchor: object, part: unknown) => [anchor, part],
    () => {
      made += 1;
      return undefined;
    },
  );
  const anchor = {};
  nothing(anchor, Number.NaN);
  nothing(anchor, Number.NaN);
  expect(made).toBe(1);
  nothing(anchor, undefined);
  nothing(anchor, null);
  expect(made).toBe(3);
});

it('does not remember what failed', () => {
  let tries = 0;
  const late = memoBy(
    (anchor: object) => [anchor],
    () => {
      tries += 1;
      if (tries === 1) throw new Error('not yet');
      return 'there';
    },
  );
  const anchor = {};
  expect(() => late(anchor)).toThrow('not yet');
  expect(late(anchor)).toBe('there');
});
