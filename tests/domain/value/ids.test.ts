// Ids as people can read and type them.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { eventId, itemId, place, slugOf } from '../../../src/domain/value/ids.ts';

it('makes an id of a name: lower case, accents folded, hyphens for the rest', () => {
  expect(slugOf('Crème de Mûre')).toBe('creme-de-mure');
  expect(slugOf('  Dry gin 47.3% ')).toBe('dry-gin-47-3');
  expect(slugOf('N° 3 — "Quay"')).toBe('n-3-quay');
  expect(slugOf('ＦＵＬＬ')).toBe('full');
});

it('keeps a readable one for scripts without Latin letters', () => {
  // 梅 is U+6885, 酒 is U+9152.
  expect(slugOf('梅酒')).toBe('u-6885-9152');
  expect(slugOf('梅酒')).not.toBe(slugOf('焼酎'));
  expect(slugOf('Водка')).not.toBe(slugOf('Вермут'));
});

it('cuts what is too long, and gives an id to a name without a letter', () => {
  expect(slugOf('x'.repeat(200))).toBe('x'.repeat(60));
  expect(slugOf('!!!')).toBe('u-21-21-21');
});

it('always makes an id that is one', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 90 }), (name) => {
      expect(itemId.safeParse(slugOf(name)).success).toBe(true);
    }),
  );
});

it('does not change an id', () => {
  const id = fc.stringMatching(/^[a-z0-9]+(-[a-z0-9]+){0,4}$/).filter((text) => text.length <= 60);
  fc.assert(
    fc.property(id, (text) => {
      expect(slugOf(text)).toBe(text);
    }),
  );
});

const accepted = (
  schema: { safeParse: (text: string) => { success: boolean } },
  ...texts: readonly string[]
) => texts.filter((text) => schema.safeParse(text).success);

it('refuses ids that could not be typed or read back', () => {
  expect(
    accepted(itemId, 'gin', '7-spice', 'a', '', '-gin', 'Gin', 'dry gin', 'gin\n', 'gín', 'x'.repeat(61)),
  ).toEqual(['gin', '7-spice', 'a']);
  expect(accepted(place, 'bar', '地下', '', 'x'.repeat(41))).toEqual(['bar', '地下']);
});

it('takes only time-ordered ids for events', () => {
  // RFC 9562 (2024), 5.7: version 7 in the third group, variant 8 to b in the fourth.
  expect(
    accepted(
      eventId,
      '01920000-0000-7000-8000-00000000000a',
      '01920000-0000-7fff-bfff-00000000000a',
      '01920000-0000-4000-8000-00000000000a',
      '01920000-0000-7000-c000-00000000000a',
      '01920000-0000-7000-8000-00000000000A',
      '0192000000007000800000000000000a',
    ),
  ).toEqual(['01920000-0000-7000-8000-00000000000a', '01920000-0000-7fff-bfff-00000000000a']);
});
