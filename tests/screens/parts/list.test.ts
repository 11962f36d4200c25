// A list in a window: nothing silently hidden, the marked row always in sight.
import { expect, it } from 'vitest';
import { bar, containers } from '../../../src/screens/parts/bar.ts';
import { cut, fitText, line, plainText, widthOf, wrap } from '../../../src/screens/parts/line.ts';
import { listLines, moveCursor, windowOf } from '../../../src/screens/parts/list.ts';

it('shows first + window + rest = all, the marked row always, in exactly the rows there are', () => {
  const hidden = { above: 0, below: 0, both: 0, none: 0 };
  for (const total of [0, 1, 2, 5, 17, 18, 19, 1000]) {
    for (const rows of [3, 4, 10, 18]) {
      for (let cursor = 0; cursor < Math.max(1, total); cursor += 1) {
        const items = Array.from({ length: total }, (_, index) => index);
        const lines = listLines(items, cursor, rows, (item, on) => line(`${on ? '>' : ' '}${item}`)).map(
          plainText,
        );
        const { first, count, above, below } = windowOf(total, cursor, rows);
        expect([above + count + below, above, first]).toEqual([total, first, above]);
        expect(lines.length).toBeLessThanOrEqual(rows);
        expect(lines.filter((text) => text === `>${cursor}`)).toHaveLength(Math.min(1, total));
        // The words about what is hidden stand at the ends, and only where something is.
        expect(lines.flatMap((text, at) => (text.includes('↑') ? [at, text] : []))).toEqual(
          above > 0 ? [0, `  ↑ ${above} more`] : [],
        );
        expect(lines.flatMap((text, at) => (text.includes('↓') ? [at, text] : []))).toEqual(
          below > 0 ? [lines.length - 1, `  ↓ ${below} more`] : [],
        );
        hidden[above > 0 && below > 0 ? 'both' : above > 0 ? 'above' : below > 0 ? 'below' : 'none'] += 1;
      }
    }
  }
  expect(Object.values(hidden).every((times) => times > 10)).toBe(true);
});

it('walking down a thousand rows marks each once and stops at the end', () => {
  let cursor = 0;
  const seen = new Set([0]);
  for (let step = 0; step < 1005; step += 1) {
    cursor = moveCursor('down', cursor, 1000, 10);
    seen.add(cursor);
  }
  expect([seen.size, cursor]).toEqual([1000, 999]);
  expect(moveCursor('up', 0, 10, 5)).toBe(0);
});

it('cuts and pads by cells, never by letters', () => {
  for (const text of ['Kräuterlikör', '梅酒の瓶', '소주', 'Café au lait', 'plain', '½ oz']) {
    for (let width = 1; width < 16; width += 1)
      expect([text, width, widthOf(fitText(text, width))]).toEqual([text, width, width]);
  }
  expect(cut('Lantern Sour', 7)).toBe('Lanter…');
  expect(wrap('one two three', 7)).toEqual(['one two', 'three']);
  expect(cut('a\u001b[31mb', 20)).not.toContain('\u001b');
});

it('never shows something as empty, nor less than full as full', () => {
  expect([bar(0, 5), bar(0.01, 5), bar(0.99, 5), bar(1, 5), bar(-3, 5)]).toEqual([
    '▁▁▁▁▁',
    '▇▁▁▁▁',
    '▇▇▇▇▁',
    '▇▇▇▇▇',
    '▁▁▁▁▁',
  ]);
  expect([containers(0, 5), containers(3, 5), containers(14, 5)]).toEqual(['', '███', '█ 14']);
});
