// `npm test`: format and lint, types, build, then every test; the last line is what was passed and what failed.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const root = new URL('..', import.meta.url).pathname;
const only = process.argv.slice(2);
let [passed, failed] = [0, 0];

function step(name: string, command: string, words: readonly string[]): void {
  process.stdout.write(`\n${name}\n`);
  const { status } = spawnSync(command, words, { cwd: root, stdio: 'inherit' });
  if (status === 0) passed += 1;
  else failed += 1;
}

if (only.length === 0) {
  step('format and lint', 'biome', ['check', '--error-on-warnings', '.']);
  step('types', 'tsc', ['--noEmit']);
}
step('build', process.execPath, ['.config/build.ts']);

const folder = mkdtempSync(join(tmpdir(), 'ullage-test-'));
const result = join(folder, 'result.json');
const { status } = spawnSync(
  'vitest',
  [
    'run',
    '--config',
    '.config/vitest.config.ts',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${result}`,
    ...only,
  ],
  { cwd: root, stdio: 'inherit' },
);
try {
  const summary = JSON.parse(readFileSync(result, 'utf8')) as {
    numPassedTests: number;
    numFailedTests: number;
    numFailedTestSuites: number;
    testResults: { assertionResults: { status: string; fullName: string }[] }[];
  };
  const skipped = summary.testResults
    .flatMap(({ assertionResults }) => assertionResults)
    .filter(({ status: said }) => said === 'pending' || said === 'skipped' || said === 'todo')
    .map(({ fullName }) => fullName);
  for (const name of skipped)
    process.stdout.write(`skipped, for want of something on this machine: ${name}\n`);
  passed += summary.numPassedTests;
  failed += summary.numFailedTests;
  if (status !== 0 && summary.numFailedTests === 0) failed += Math.max(1, summary.numFailedTestSuites);
} catch {
  failed += 1;
}
rmSync(folder, { recursive: true, force: true });
process.stdout.write(`\n${passed} passed, ${failed} failed\n`);
process.exit(failed === 0 ? 0 : 1);
