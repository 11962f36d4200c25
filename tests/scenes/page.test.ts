// The report as a page: valid, alone, small, escaped; drawn by a real browser on a desk, on a phone and on A4. The pictures
// are left in .build/pages for someone to look at.
import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import chromium from '@sparticuz/chromium';
import { HtmlValidate } from 'html-validate';
import { type Browser, launch } from 'puppeteer-core';
import { describe, expect, it, onTestFinished } from 'vitest';
import { labelHtml } from '../../src/exchange/page/label-html.ts';
import { demoFile, type Night, openNight, tempFolder } from '../support/night.ts';

const pages = new URL('../../.build/pages', import.meta.url).pathname;

async function demo(): Promise<Night> {
  const night = openNight('2026-11-25T12:00:00.000Z', 'demo');
  await night.ok('import', demoFile('events.jsonl'));
  return night;
}

/** The last night with everything a page can hold: lines of the till, notes, a correction. */
async function fullNight(): Promise<string> {
  const night = await demo();
  const till = join(night.folder, 'till.csv');
  writeFileSync(
    till,
    'time,drink,quantity\n2026-11-22 20:00,Negroni,9\n2026-11-22 20:05,<b>Odd & Co</b>,2\n',
  );
  await night.ok('import', till);
  await night.ok('note', 'ice <machine> "out" & back', '--by', 'Ines');
  await night.ok('correct 40ml dry-gin --what poured --why', 'ticket found');
  const file = join(night.folder, 'night.html');
  await night.ok('report --html', file);
  return readFileSync(file, 'utf8');
}

async function stretch(from: string, to: string): Promise<string> {
  const night = await demo();
  const file = join(night.folder, 'stretch.html');
  await night.ok('report --from', from, '--to', to, '--html', file);
  return readFileSync(file, 'utf8');
}

const validator = new HtmlValidate({
  extends: ['html-validate:recommended'],
  rules: { 'no-inline-style': 'off', 'long-title': 'off' },
});

async function problems(html: string): Promise<string[]> {
  const { results } = await validator.validateString(html);
  return results.flatMap(({ messages }) =>
    messages.map(({ line, ruleId, message }) => `${line} ${ruleId} ${message}`),
  );
}

describe('the page', () => {
  it.each([
    ['of a night with everything in it', fullNight],
    ['of a week', () => stretch('2026-11-16', '2026-11-22')],
    ['of all four weeks', () => stretch('2026-10-26', '2026-11-22')],
  ])('%s is valid, under 300 kB, and asks for nothing', async (_, make) => {
    const html = await make();
    expect(await problems(html)).toEqual([]);
    expect(Buffer.byteLength(html)).toBeLessThan(300_000);
    expect(html).not.toMatch(/<script|<link|<img|<iframe|<object|\bsrc=|\bhref=|url\((?!#)|@import|https?:/);
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'"`);
    expect((html.match(/<svg /g) ?? []).length).toBeGreaterThanOrEqual(8);
  });

  it('a page that is not valid is found so', async () => {
    const html = (await fullNight()).replace('</table>', '</p></table>');
    expect((await problems(html)).length).toBeGreaterThan(0);
  });

  it('says what the report says: till, notes, correction, escaped', async () => {
    const html = await fullNight();
    expect(html).toContain('&lt;b&gt;Odd &amp; Co&lt;/b&gt;');
    expect(html).toContain('ice &lt;machine&gt; &quot;out&quot; &amp; back');
    expect(html).toMatch(/corrected after the seal: 20 ml extra ±58.*as sealed 20 ml missing ±58/);
    expect(html).toContain('aria-label="Pours by the hour of the clock"');
  });
});

/** A browser that is there, else the one that comes with the tests; null on a platform that has neither. */
async function findBrowser(): Promise<{ path: string; words: readonly string[] } | null> {
  for (const name of ['chromium', 'chromium-browser', 'google-chrome']) {
    const path = (process.env.PATH ?? '')
      .split(':')
      .map((folder) => join(folder, name))
      .find(existsSync);
    if (path !== undefined) return { path, words: ['--no-sandbox'] };
  }
  if (process.platform !== 'linux' || process.arch !== 'x64') return null;
  return { path: await chromium.executablePath(), words: chromium.args };
}

const found = await findBrowser();
if (found === null && process.env.CI === 'true')
  throw new Error('no browser is there to draw the page: CI refuses to skip these tests');

function openBrowser({ path, words }: NonNullable<typeof found>): Promise<Browser> {
  const userDataDir = join(tempFolder(), 'profile');
  return launch({ executablePath: path, args: [...words], headless: 'shell', userDataDir });
}

/** Width and height of a PNG, from its header (PNG specification, 11.2.2 IHDR). */
const sizeOf = (png: Buffer): [number, number] => [png.readUInt32BE(16), png.readUInt32BE(20)];

describe.skipIf(found === null)('in a browser', () => {
  it('draws on a desk, on a phone and on A4', async () => {
    if (found === null) return;
    const browser = await openBrowser(found);
    onTestFinished(() => browser.close());
    mkdirSync(pages, { recursive: true });
    const file = join(pages, 'night.html');
    writeFileSync(file, await fullNight());
    for (const [name, width, height] of [
      ['desk', 1100, 3800],
      ['phone', 500, 4200],
    ] as const) {
      const picture = join(pages, `${name}.png`);
      const page = await browser.newPage();
      await page.setViewport({ width, height });
      await page.goto(`file://${file}`);
      const png = Buffer.from(await page.screenshot());
      writeFileSync(picture, png);
      await page.close();
      expect(sizeOf(png)).toEqual([width, height]);
      // An empty page of that size packs into a few kilobytes.
      expect(png.length).toBeGreaterThan(100_000);
    }
    const narrow = await browser.newPage();
    await narrow.goto(`file://${file}`);
    await narrow.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
    // Nothing stands beyond an edge, folded or not, on the narrowest phone as on a desk.
    const beyond =
      "[...document.querySelectorAll('html, .wide, figure, pre, table')].filter((one) => one.scrollWidth > one.clientWidth + 1).map((one) => one.tagName)";
    for (const width of [360, 390, 600, 768, 900, 1024, 1100, 1400]) {
      await narrow.setViewport({ width, height: 900 });
      expect([width, await narrow.evaluate(beyond)]).toEqual([width, []]);
    }
    await narrow.close();
    const pdf = join(pages, 'a4.pdf');
    const page = await browser.newPage();
    await page.goto(`file://${file}`);
    await page.pdf({ path: pdf, preferCSSPageSize: true });
    const text = readFileSync(pdf, 'latin1');
    const [, wide, high] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(text) ?? [];
    // A4 is 210 × 297 mm, 595.28 × 841.89 points (ISO 216:2007).
    expect([Math.round(Number(wide)), Math.round(Number(high))]).toEqual([595, 842]);
    const sheets = (text.match(/\/Type \/Page\b/g) ?? []).length;
    expect(sheets).toBeGreaterThanOrEqual(2);
    expect(sheets).toBeLessThanOrEqual(6);
    expect(existsSync(pdf) && statSync(pdf).size > 10_000).toBe(true);
  });

  it('labels stand whole on 62 × 29 mm, one a sheet', async () => {
    if (found === null) return;
    const browser = await openBrowser(found);
    onTestFinished(() => browser.close());
    mkdirSync(pages, { recursive: true });
    const label = {
      name: 'House syrup',
      made: 'made Fri 20 Nov 15:05',
      by: 'Ines',
      discard: 'use by Sat 19 Dec',
      contains: 'allergens: ask',
    };
    const labels = [
      label,
      {
        ...label,
        name: 'Long-steeped bergamot, black tea & cardamom cordial for the upstairs bar',
        by: 'Wilhelmina-Alexandra',
        discard: 'use by Wed 30 Sep 15:05',
        contains:
          'contains gluten, crustaceans, eggs, fish, peanuts, soybeans, milk, nuts, celery, mustard, sesame, sulphites',
      },
    ];
    const file = join(pages, 'labels.html');
    writeFileSync(file, labelHtml(labels));
    const page = await browser.newPage();
    await page.setViewport({ width: 400, height: 400, deviceScaleFactor: 2 });
    await page.goto(`file://${file}`);
    writeFileSync(join(pages, 'labels.png'), Buffer.from(await page.screenshot()));
    // What contains what is never cut away, however long the name.
    const cutOff =
      "[...document.querySelectorAll('section')].filter((one) => one.scrollHeight > one.clientHeight + 1).length";
    expect(await page.evaluate(cutOff)).toBe(0);
    const pdf = join(pages, 'labels.pdf');
    await page.pdf({ path: pdf, preferCSSPageSize: true });
    const text = readFileSync(pdf, 'latin1');
    const [, wide, high] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(text) ?? [];
    // 62 × 29 mm in points of 1/72 inch.
    expect([Math.round(Number(wide)), Math.round(Number(high))]).toEqual([176, 82]);
    expect((text.match(/\/Type \/Page\b/g) ?? []).length).toBe(2);
  });
});
