// Builds what the `bin` of package.json runs: the program in esm chunks (commands never load the screens)
// and a small launcher that finds a Node new enough. Runs by itself after `npm ci` (the `prepare` script).
import { execFileSync } from 'node:child_process';
import { chmodSync, copyFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { build } from 'esbuild';
import { bundle, root } from './bundle.ts';

const out = `${root}.build`;
rmSync(out, { recursive: true, force: true });

await build({ ...bundle, outdir: out, outExtension: { '.js': '.mjs' }, splitting: true });
copyFileSync(`${root}src/launch.cjs`, `${out}/ullage.cjs`);
chmodSync(`${out}/ullage.cjs`, 0o755);
writeFileSync(`${out}/package.json`, '{"type":"module"}\n');

// The demo's books, built once so that `ullage demo` only copies a file.
const folder = `${out}/demo-build`;
const env = { ...process.env, XDG_CONFIG_HOME: `${folder}/config`, TMPDIR: tmpdir() };
const ullage = (...words: string[]): void => {
  execFileSync(process.execPath, [`${out}/ullage.cjs`, '--data', folder, ...words], {
    env,
    stdio: ['ignore', 'ignore', 'inherit'],
  });
};
ullage('import', `${root}data-demo/events.jsonl`);
ullage('backup', `${out}/demo.sqlite`);
rmSync(folder, { recursive: true, force: true });
