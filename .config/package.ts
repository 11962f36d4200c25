// `npm run package`: what one can carry. A tarball for `npm install -g`, and one executable file for this platform with Node, the
// program and the demo's books in it. `--out FOLDER` puts them elsewhere than into .package.
import { execFileSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import { bundle, root } from './bundle.ts';

const at = process.argv.indexOf('--out');
const out = resolve(at === -1 ? join(root, '.package') : (process.argv[at + 1] ?? ''));
const demo = join(root, '.build', 'demo.sqlite');
if (!existsSync(demo)) throw new Error('Nothing is built yet. Run npm run build first.');
mkdirSync(out, { recursive: true });

const name = `ullage-${process.platform}-${process.arch}${process.platform === 'win32' ? '.exe' : ''}`;
const [main, worker, config] = ['main.mjs', 'worker.cjs', 'one-file.json'].map((file) => join(out, file)) as [
  string,
  string,
  string,
];
await build({ ...bundle, entryPoints: [`${root}src/main.ts`], outfile: main });
// The thread that exchanges with a server, as a text that the one file starts it from.
await build({
  ...bundle,
  entryPoints: [`${root}src/shell/thread/worker.ts`],
  format: 'cjs',
  banner: {},
  outfile: worker,
});
writeFileSync(
  config,
  JSON.stringify({
    main,
    mainFormat: 'module',
    output: join(out, name),
    disableExperimentalSEAWarning: true,
    // Nothing listens, on any signal, and no variable of the environment changes that.
    execArgv: ['--disable-sigusr1'],
    execArgvExtension: 'none',
    assets: { 'demo.sqlite': demo, 'worker.cjs': worker },
  }),
);
execFileSync(process.execPath, ['--build-sea', config], { stdio: ['ignore', 'ignore', 'inherit'] });
chmodSync(join(out, name), 0o755);
for (const file of [main, worker, config]) rmSync(file);

// What is built goes in as it is, under a manifest without scripts or anything to build with: nothing runs where it is installed.
const parts = ['.build', '.pictures', 'data-demo', 'README.md', 'LICENSE'];
const staging = join(out, 'staging');
mkdirSync(staging, { recursive: true });
for (const part of parts) cpSync(join(root, part), join(staging, part), { recursive: true });
rmSync(join(staging, '.build', 'pages'), { recursive: true, force: true });
const {
  scripts: _,
  devDependencies: __,
  allowScripts: ___,
  ...manifest
} = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as Record<string, unknown>;
writeFileSync(join(staging, 'package.json'), `${JSON.stringify(manifest, null, 2)}\n`);
const npm = process.env.npm_execpath;
const pack = ['pack', '--ignore-scripts', '--silent', '--pack-destination', out];
const tarball = (
  npm === undefined
    ? execFileSync('npm', pack, { cwd: staging })
    : execFileSync(process.execPath, [npm, ...pack], { cwd: staging })
)
  .toString()
  .trim();
rmSync(staging, { recursive: true });
process.stdout.write(`${join(out, name)}\n${join(out, tarball)}\n`);
