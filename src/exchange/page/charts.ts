// Charts of the report as SVG, drawn by a kept library without a browser; what it adds for browsers is taken out again,
// so that the page stays free of scripts, styles of its own and unknown attributes.
import { BarChart, CustomChart, LineChart } from 'echarts/charts';
import { GridComponent } from 'echarts/components';
import { init, use } from 'echarts/core';
import { SVGRenderer } from 'echarts/renderers';
import { clean } from '../../domain/value/text.ts';

use([BarChart, CustomChart, LineChart, GridComponent, SVGRenderer]);

const ink = '#111';
const faint = '#bbb';
const font = { color: ink, fontFamily: 'sans-serif', fontSize: 12 };

/** As wide as it can be read on a phone. */
const WIDTH = 480;

type Option = Parameters<ReturnType<typeof init>['setOption']>[0];

function draw(option: Option, width: number, height: number, label: string): string {
  const chart = init(null, null, { renderer: 'svg', ssr: true, width, height });
  try {
    chart.setOption({ animation: false, textStyle: font, ...option });
    return tidy(chart.renderToSVGString(), label);
  } finally {
    chart.dispose();
  }
}

/** Leaves shapes and text; the size comes from the page, and the label says what a reader aloud needs. */
function tidy(svg: string, label: string): string {
  return svg
    .replace(/<style[\s\S]*?<\/style>/g, '')
    .replace(/ (?:ecmeta_\w+|class|pointer-events)="[^"]*"/g, '')
    .replace(
      /<svg width="\d+" height="\d+"[^>]*?viewBox="([^"]*)">/,
      (_: string, box: string) => `<svg viewBox="${box}" role="img" aria-label="${label}">`,
    )
    .replace(/\s*\n\s*/g, '');
}

/** What the library hands to a drawing of our own. */
type PointApi = {
  readonly value: (dimension: number) => number;
  readonly coord: (point: readonly number[]) => number[];
};

export type ErrorBar = { readonly name: string; readonly value: number; readonly uncertainty: number };

const short = (text: string): string => {
  const safe = [...clean(text)];
  return safe.length > 24 ? `${safe.slice(0, 23).join('')}…` : safe.join('');
};

/** Missing (right of zero) and extra (left) with ±, one line an item, in the order given from the top. */
export function errorBarChart(bars: readonly ErrorBar[], unit: string, label: string): string {
  const height = 50 + bars.length * 22;
  const rows = [...bars].reverse();
  return draw(
    {
      grid: { left: 165, right: 16, top: 10, bottom: 40 },
      xAxis: {
        type: 'value',
        name: `extra  −  0  +  missing, ${unit}`,
        nameLocation: 'middle',
        nameGap: 24,
        nameTextStyle: font,
        axisLabel: font,
        splitLine: { lineStyle: { color: faint } },
      },
      yAxis: {
        type: 'category',
        data: rows.map(({ name }) => short(name)),
        axisLabel: font,
        axisTick: { show: false },
      },
      series: [
        {
          type: 'custom',
          silent: true,
          dimensions: ['value', 'row', 'low', 'high'],
          encode: { x: [0, 2, 3], y: 1 },
          data: rows.map(({ value, uncertainty }, row) => [
            value,
            row,
            value - uncertainty,
            value + uncertainty,
          ]),
          renderItem: (_: unknown, api: PointApi) => {
            const at = (dimension: number): number[] => api.coord([api.value(dimension), api.value(1)]);
            const [x = 0, y = 0] = at(0);
            const [low = 0] = at(2);
            const [high = 0] = at(3);
            const tick = (where: number) => ({
              type: 'line' as const,
              shape: { x1: where, y1: y - 4, x2: where, y2: y + 4 },
              style: { stroke: ink },
            });
            return {
              type: 'group',
              children: [
                { type: 'line', shape: { x1: low, y1: y, x2: high, y2: y }, style: { stroke: ink } },
                tick(low),
                tick(high),
                { type: 'circle', shape: { cx: x, cy: y, r: 4 }, style: { fill: ink } },
              ],
            };
          },
        },
      ],
    },
    WIDTH,
    height,
    label,
  );
}

export type Count = { readonly name: string; readonly count: number };

/** Counts as bars, in the order given. */
export function countChart(counts: readonly Count[], label: string): string {
  return draw(
    {
      grid: { left: 36, right: 8, top: 24, bottom: 28 },
      xAxis: {
        type: 'category',
        data: counts.map(({ name }) => clean(name)),
        axisLabel: font,
        axisTick: { show: false },
      },
      yAxis: { type: 'value', minInterval: 1, axisLabel: font, splitLine: { lineStyle: { color: faint } } },
      series: [
        {
          type: 'bar',
          silent: true,
          barCategoryGap: '35%',
          itemStyle: { color: '#444' },
          label: { show: true, position: 'top', ...font },
          data: counts.map(({ count }) => count),
        },
      ],
    },
    WIDTH,
    200,
    label,
  );
}

export type Course = {
  readonly name: string;
  /** x is any common scale (hours, shifts); a counted point is marked. */
  readonly points: readonly { readonly x: number; readonly y: number; readonly counted: boolean }[];
};

/** One item's stock through the time: a line of what is expected, a mark at every count. */
export function courseChart(course: Course, axis: readonly string[], unit: string, label: string): string {
  return draw(
    {
      grid: { left: 56, right: 14, top: 28, bottom: 28 },
      xAxis: {
        type: 'value',
        min: 0,
        max: Math.max(1, axis.length - 1),
        interval: Math.max(1, Math.ceil(axis.length / 6)),
        axisLabel: { ...font, formatter: (value: number) => axis[Math.round(value)] ?? '' },
        splitLine: { show: false },
      },
      yAxis: {
        type: 'value',
        min: 0,
        name: `${short(course.name)}, ${unit}`,
        nameTextStyle: { ...font, align: 'left', padding: [0, 0, 0, -40] },
        axisLabel: font,
        splitLine: { lineStyle: { color: faint } },
      },
      series: [
        {
          type: 'line',
          silent: true,
          showSymbol: true,
          symbol: 'circle',
          symbolSize: (value: number[]) => (value[2] === 1 ? 7 : 0),
          lineStyle: { color: '#444', width: 1.5 },
          itemStyle: { color: ink },
          data: course.points.map(({ x, y, counted }) => [x, y, counted ? 1 : 0]),
        },
      ],
    },
    370,
    180,
    label,
  );
}
