// The name of a station: made once, kept, and made once again when what was kept can't be read.
import { mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { loadStation } from '../../src/shell/config.ts';

it.each([
  ['nothing', null],
  ['half a file', '{"station":'],
  ['another make', '{"station": 7}'],
])('stays the same from start to start, after %s', async (_, text) => {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-config-'));
  if (text !== null) writeFileSync(join(folder, 'config.json'), text);
  const first = await loadStation(folder);
  expect(first).toMatch(/^s-[0-9a-f]{8}$/);
  expect(await loadStation(folder)).toBe(first);
  expect(readdirSync(folder).some((name) => name.includes('.damaged-'))).toBe(
    text?.startsWith('{"station":') === true && !text.endsWith('}'),
  );
});
