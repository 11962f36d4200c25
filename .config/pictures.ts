// The pictures of the README: real frames of the demo's rooms, as SVG, on a dark ground and on a light one. `npm run readme` makes them.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { picture } from '../src/app/picture.ts';
import { createApp } from '../src/app/run.ts';
import { type Line, type Style, widthOf } from '../src/screens/parts/line.ts';
import { beginNight, importDemo } from '../src/shell/demo.ts';
import { newEventId } from '../src/shell/world.ts';
import { openSqliteStore } from '../src/store/file/sqlite.ts';

type Frame = {
  readonly name: string;
  readonly says: string;
  readonly now: string;
  readonly isNight: boolean;
  readonly keys: readonly string[];
  readonly size: { readonly columns: number; readonly rows: number };
};

const frames: readonly Frame[] = [
  {
    name: 'pour',
    says: 'The Pour room: two Lantern Smash typed with "2 lan", the card beside the list, what each measure leaves, what runs low',
    now: '2026-11-27T21:40:00.000Z',
    isNight: true,
    keys: ['2', ' ', 'l', 'a', 'n'],
    size: { columns: 100, rows: 26 },
  },
  {
    name: 'close',
    says: 'The Close room after a night: what is missing and real comes first, each with its ± and what to do',
    now: '2026-11-23T10:00:00.000Z',
    isNight: false,
    keys: ['tab', 'tab', 'tab'],
    size: { columns: 100, rows: 26 },
  },
];

type Ground = Readonly<Record<'ground' | 'text' | 'strong' | 'warn' | 'bad' | 'good', string>>;
const grounds: Readonly<Record<'dark' | 'light', Ground>> = {
  dark: {
    ground: '#16181d',
    text: '#d7dae0',
    strong: '#ffffff',
    warn: '#e5c07b',
    bad: '#ff7b72',
    good: '#8ddb8c',
  },
  light: {
    ground: '#fbfaf7',
    text: '#24272e',
    strong: '#000000',
    warn: '#7a5200',
    bad: '#b3261e',
    good: '#1f6f2b',
  },
};

const CELL = 8.4;
const ROW = 18;
const EDGE = 14;

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
const at = (cells: number): string => (EDGE + cells * CELL).toFixed(1);

function inkOf(
  style: Style,
  { ground, text, strong, warn, bad, good }: Ground,
): { fill: string; more: string } {
  const bold = ' font-weight="bold"';
  if (style === 'chosen') return { fill: ground, more: '' };
  if (style === 'strong') return { fill: strong, more: bold };
  if (style === 'bad') return { fill: bad, more: bold };
  if (style === 'warn') return { fill: warn, more: '' };
  if (style === 'good') return { fill: good, more: '' };
  return { fill: text, more: style === 'under' ? ' text-decoration="underline"' : '' };
}

function rowSvg(content: Line, row: number, colours: Ground): string {
  const y = EDGE + row * ROW;
  let cells = 0;
  return content
    .map(({ text, style }) => {
      const [start, wide] = [cells, widthOf(text)];
      cells += wide;
      if (text.trim() === '' && style !== 'chosen') return '';
      const { fill, more } = inkOf(style, colours);
      const box =
        style === 'chosen'
          ? `<rect x="${at(start)}" y="${y}" width="${(wide * CELL).toFixed(1)}" height="${ROW}" fill="${colours.text}"/>`
          : '';
      // Each piece is as wide as its cells, whatever font there is.
      const long = `textLength="${(wide * CELL).toFixed(1)}" lengthAdjust="spacingAndGlyphs"`;
      return `${box}<text x="${at(start)}" y="${y + 13.5}" ${long} fill="${fill}"${more} xml:space="preserve">${escaped(text)}</text>`;
    })
    .join('');
}

function svgOf(lines: readonly Line[], { says, size }: Frame, colours: Ground): string {
  const width = Math.round(EDGE * 2 + size.columns * CELL);
  const height = EDGE * 2 + size.rows * ROW;
  const rows = lines.map((content, row) => rowSvg(content, row, colours)).filter((row) => row !== '');
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="${escaped(says)}" font-family="ui-monospace, SFMono-Regular, Menlo, Consolas, monospace" font-size="14">`,
    `<rect width="${width}" height="${height}" rx="8" fill="${colours.ground}"/>`,
    ...rows,
    '</svg>',
    '',
  ].join('\n');
}

async function linesOf({ now, isNight, keys, size }: Frame): Promise<readonly Line[]> {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-picture-'));
  const env = { ...process.env, ULLAGE_NOW: now, XDG_CONFIG_HOME: folder };
  try {
    await importDemo(folder, env);
    if (isNight) await beginNight(folder, env);
    const clock = (): number => Date.parse(now);
    const opened = openSqliteStore(folder, { now: clock, newId: newEventId, station: () => 'picture' });
    if (!opened.ok) throw new Error(opened.problems[0]?.message);
    const app = createApp(opened.value, clock, size, () => undefined);
    app.dispatch({ type: 'tick', now });
    for (const key of keys) app.dispatch({ type: 'key', key });
    const lines = picture(app.state());
    opened.value.close();
    return lines;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Every picture by the name of its file. */
export async function freshPictures(): Promise<ReadonlyMap<string, string>> {
  const made = new Map<string, string>();
  for (const frame of frames) {
    const lines = await linesOf(frame);
    for (const [ground, colours] of Object.entries(grounds))
      made.set(`${frame.name}-${ground}.svg`, svgOf(lines, frame, colours));
  }
  return made;
}

/** What the README shows: the picture for the reader's ground, said in words for whoever can't see it. */
export const pictureText = (): string =>
  frames
    .map(
      ({ name, says }) =>
        `<picture><source media="(prefers-color-scheme: dark)" srcset=".pictures/${name}-dark.svg"><img src=".pictures/${name}-light.svg" alt="${escaped(says)}"></picture>`,
    )
    .join('\n\n');
