// Charts as SVG on the page: shapes and words, readable aloud, nothing that runs and nothing that is fetched.
import { expect, it } from 'vitest';
import { countChart, courseChart, errorBarChart } from '../../../src/exchange/page/charts.ts';

const hostile = `<script>alert(1)</script>&"'`;
const wordsOf = (svg: string): string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text = '']) => text);
const bars = (...names: readonly string[]): string =>
  errorBarChart(
    names.map((name) => ({ name, value: 120, uncertainty: 58 })),
    'ml',
    'Missing or extra, item by item',
  );
const counts = countChart(
  [
    { name: '20', count: 14 },
    { name: '21', count: 0 },
  ],
  'Pours by the hour',
);
const course = (name: string): string =>
  courseChart(
    {
      name,
      points: [
        { x: 0, y: 2, counted: true },
        { x: 1, y: 1.5, counted: false },
      ],
    },
    ['18:00', '19:00'],
    '700 ml',
    'Stock of gin',
  );

it('says aloud what it shows', () => {
  for (const [svg, label] of [
    [bars('gin'), 'Missing or extra, item by item'],
    [counts, 'Pours by the hour'],
    [course('gin'), 'Stock of gin'],
  ] as const) {
    expect(svg.startsWith('<svg viewBox="')).toBe(true);
    expect(svg.slice(0, svg.indexOf('>'))).toContain(`role="img" aria-label="${label}"`);
  }
});

it('names items in the order given from the top', () => {
  const svg = bars('gin', 'rye', 'plum');
  const height = (name: string): number =>
    Number(new RegExp(`<text[^>]*translate\\([\\d.]+ ([\\d.]+)\\)[^>]*>${name}</text>`).exec(svg)?.[1]);
  expect(height('gin')).toBeLessThan(height('rye'));
  expect(height('rye')).toBeLessThan(height('plum'));
});

it('grows with its items, so that no name stands on another', () => {
  const height = (svg: string): number => Number(/viewBox="0 0 \d+ (\d+)"/.exec(svg)?.[1]);
  expect(height(bars('a', 'b', 'c')) - height(bars('a', 'b'))).toBeGreaterThanOrEqual(18);
});

it('says the unit, the hours and how many', () => {
  expect(wordsOf(bars('gin')).join(' ')).toMatch(/extra.*missing, ml/);
  expect(wordsOf(counts)).toEqual(expect.arrayContaining(['20', '21', '14']));
  expect(wordsOf(course('gin')).join(' ')).toContain('gin, 700 ml');
  expect(wordsOf(course('gin'))).toEqual(expect.arrayContaining(['18:00', '19:00']));
});

it('marks the counts of a course, and not what is only expected', () => {
  // A mark drawn at no size can't be seen.
  const marks = (svg: string): number => svg.match(/<path[^>]*matrix\((?!0,)[^>]*fill="#111"/g)?.length ?? 0;
  const drawn = (...counted: readonly boolean[]): number =>
    marks(
      courseChart(
        { name: 'gin', points: counted.map((is, x) => ({ x, y: 2, counted: is })) },
        ['18:00', '19:00', '20:00'],
        'ml',
        'x',
      ),
    );
  expect([drawn(false, false, false), drawn(true, false, false), drawn(true, true, true)]).toEqual([0, 1, 3]);
});

it('lets no name be markup, and cuts a very long one', () => {
  for (const svg of [bars(hostile), course(hostile), countChart([{ name: hostile, count: 1 }], 'x')]) {
    expect(svg).not.toContain('<script');
    expect(wordsOf(svg).join('')).toContain('&lt;script&gt;');
  }
  expect(wordsOf(bars('x'.repeat(100)))).toContain(`${'x'.repeat(23)}…`);
});

it('runs nothing, fetches nothing and carries no style of its own', () => {
  for (const svg of [bars('gin', '焼酎'), counts, course('gin')]) {
    expect(svg).not.toMatch(/<(script|style|image|foreignObject|use)\b/);
    expect(svg).not.toMatch(/ (on\w+|class|href|xlink:href)=/);
    expect(
      svg.match(/https?:\/\/[^"' ]*/g)?.filter((link) => !link.startsWith('http://www.w3.org/')) ?? [],
    ).toEqual([]);
  }
});

it('draws nothing, less than nothing and one point', () => {
  for (const svg of [
    bars(),
    errorBarChart([{ name: 'gin', value: -700, uncertainty: 0 }], 'ml', 'x'),
    countChart([], 'x'),
    courseChart({ name: 'gin', points: [] }, [], 'ml', 'x'),
    courseChart({ name: 'gin', points: [{ x: 0, y: -0.5, counted: true }] }, ['18:00'], 'ml', 'x'),
  ]) {
    expect(svg.startsWith('<svg ')).toBe(true);
    expect(svg).not.toContain('NaN');
  }
});
