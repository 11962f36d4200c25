// Names that try tricks: every screen, command, report and file stays as it would be with plain names, and sends no control.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { rooms } from '../../src/app/rooms.ts';
import { clean } from '../../src/domain/value/text.ts';
import { furnished, type Night, openNight } from '../support/night.ts';
import { plant } from '../support/plant.ts';
import { openRooms } from '../support/rooms.ts';

const hostile = [
  '\u001b[31mred\u001b[0m',
  '\u001b]8;;http://x\u0007link\u001b]8;;\u0007',
  '\u001b]0;title\u0007',
  '\u009b2Jclear',
  'a\rb',
  'a\nb',
  'a\tb',
  'nul\u0000',
  'bell\u0007\u0008',
  'abc\u202Edef\u2066x\u2069',
  'zero\u200bwidth\ufeff',
  'tag\u{e0041}s',
  `stack${'\u0301'.repeat(40)}`,
  'line\u2028sep',
  '<script>alert(1)</script>',
  '"><img src=x onerror=y>',
  "'; drop table event;--",
  '%_*?',
  '=1+1',
  '梅酒',
];

/** Books that hold such names from a time when nothing looked at them. */
async function withNames(name: string): Promise<Night> {
  const plain = await furnished();
  const events = plain.store((store) => [...store.allEvents()]);
  const night = openNight('2026-11-20T18:00:00.000Z', 'other');
  await night.ok('house');
  const hostileEvents = events.map((event) => {
    if (event.kind === 'item-written' && event.item.id === 'dry-gin')
      return { ...event, item: { ...event.item, name, caution: name } };
    if (event.kind === 'spec-written' && event.spec.id === 'lantern-sour')
      return {
        ...event,
        spec: { ...event.spec, name, garnish: name, method: name, family: name.slice(0, 40) },
      };
    return event.kind === 'person-added' && event.person === 'ines' ? { ...event, name } : event;
  });
  plant(night.folder, hostileEvents);
  return night;
}

const control = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/u;

describe.each(hostile)('%j', (name) => {
  it('sends no control to a screen, a command or a page', async () => {
    const night = await withNames(name);
    await night.ok('open');
    night.store((store) => {
      const at = openRooms(store, night.world.now, { columns: 120, rows: 30 });
      at.press('ctrl-p', 'enter', 'esc', 'down', 'enter');
      for (const _ of rooms) {
        for (const row of at.rows()) expect(row).not.toMatch(control);
        at.press('?');
        for (const row of at.rows()) expect(row).not.toMatch(control);
        at.press('?', 'tab');
      }
    });
    await night.ok('count', 'dry-gin', '1.0');
    for (const words of [
      ['items'],
      ['item', 'dry-gin'],
      ['specs'],
      ['spec', 'lantern-sour'],
      ['levels'],
      ['log'],
      ['close'],
      ['people'],
      ['house'],
      ['drift'],
    ]) {
      for (const json of [[], ['--json']]) {
        const { out, err, exit } = await night.run(words[0] as string, ...words.slice(1), ...json);
        expect([words, exit]).toEqual([words, 0]);
        for (const row of `${out}${err}`.split('\n')) expect(row).not.toMatch(control);
      }
    }
  });

  it('leaves the tags of the page and the cells of the table as plain names do', async () => {
    const page = async (given: string): Promise<{ html: string; csv: string }> => {
      const night = await withNames(given);
      const [html, csv] = [join(night.folder, 'r.html'), join(night.folder, 'r.csv')];
      await night.ok('open');
      await night.ok('pour 2 lantern-sour');
      await night.ok('count', 'dry-gin', '1.0');
      await night.ok('close --html', html, '--csv', csv);
      return { html: readFileSync(html, 'utf8'), csv: readFileSync(csv, 'utf8') };
    };
    const [odd, plain] = [await page(name), await page('xxxxx')];
    // Drawings place and label by the width of the text: there the tags and their attributes are compared by name.
    const drawn = /<svg[\s\S]*?<\/svg>/g;
    const named = (tag: string): string => tag.replace(/="[^"]*"/g, '');
    const tags = (text: string): string[] => (text.match(/<[^>]*>/g) ?? []).sort();
    const outside = (text: string): string[] => tags(text.replace(drawn, ''));
    const inside = (text: string): string[] =>
      tags((text.match(drawn) ?? []).join('').replace(/"[^"]*"/g, '""')).map(named);
    expect(outside(odd.html)).toEqual(outside(plain.html));
    expect(inside(odd.html)).toEqual(inside(plain.html));
    expect(inside(odd.html).length).toBeGreaterThan(50);
    expect(odd.html).not.toMatch(/<script|<img/);
    expect(odd.csv.split('\n').some((row) => /(^|,)"?[=@]/.test(row))).toBe(false);
  });

  it('leaves the books without a control, and comes back from every export', async () => {
    const night = await withNames(name);
    const written = ['events', 'items', 'specs'].map(
      (what) => [what, join(night.folder, `${what}.out`)] as const,
    );
    for (const [what, file] of written) {
      await night.ok('export', what, '--out', file);
      for (const row of readFileSync(file, 'utf8').split('\n')) expect(row).not.toMatch(control);
    }
    const again = openNight();
    const file = join(night.folder, 'out.jsonl');
    await night.ok('export events --out', file);
    await again.ok('import', file);
    expect([...again.books().items.values()].map((item) => clean(item.name))).toEqual(
      [...night.books().items.values()].map((item) => clean(item.name)),
    );
    expect(await again.ok('check')).toBe('');
    expect(await night.ok('import', file)).toContain('0 events written');
    const copy = join(night.folder, 'again.csv');
    await again.ok('export items --out', copy);
    await again.ok('import', copy);
  });
});
