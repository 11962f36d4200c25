// From the command line to a command or the rooms, and to an exit code: the only place that ends the process.

import { fstatSync, writeFileSync } from 'node:fs';
import type { Outcome } from './commands/line/command.ts';
import { splitCommand } from './commands/line/parse.ts';
import { runCommand } from './commands/run.ts';
import { HUNG_UP, isTerminalGone, reportCrash } from './shell/crash.ts';
import { beginNight, DEMO_STATION, makeDemo } from './shell/demo.ts';
import { dataFolder } from './shell/disk/paths.ts';
import { VERSION } from './shell/version.ts';
import { makeWorld } from './shell/world.ts';

// Before anything else: Ink writes its first frame a moment before it takes the keys, and a key in between would be
// echoed onto the screen.
if (process.stdin.isTTY && process.stdout.isTTY && mayOpenRooms()) process.stdin.setRawMode(true);

function mayOpenRooms(): boolean {
  const { command, before, after } = splitCommand(process.argv.slice(2));
  const asks = [...before, ...after].some((word) => ['--help', '-h', '--version'].includes(word));
  const bareDemo = command === 'demo' && splitCommand(after).command === null;
  return (command === null || bareDemo) && !asks && process.env.TERM !== 'dumb';
}

function write(stream: NodeJS.WriteStream & { readonly fd: 1 | 2 }, text: string): Promise<void> {
  if (text === '') return Promise.resolve();
  if (fstatSync(stream.fd).isFile()) {
    // On a full disk the stream writes a part and says nothing; this writes all of it or throws.
    writeFileSync(stream.fd, text);
    return Promise.resolve();
  }
  return new Promise((resolve, reject) => {
    stream.once('error', reject);
    stream.write(text, (error) => (error ? reject(error) : resolve()));
  });
}

async function main(argv: readonly string[]): Promise<number> {
  const { env } = process;
  if (argv.includes('--no-color')) env.FORCE_COLOR = '0';
  if (argv.includes('--screen-reader')) env.INK_SCREEN_READER = 'true';
  const { command, before, after } = splitCommand(argv);
  if (command === 'demo' && !after.includes('--help') && !after.includes('-h'))
    return runDemo([...before, ...after]);
  const world = makeWorld(dataFolder(argv, env), env, VERSION);
  return finish(await runCommand(argv, world), world.dataFolder);
}

async function runDemo(argv: readonly string[]): Promise<number> {
  const demo = await makeDemo(process.env);
  try {
    const world = makeWorld(demo.folder, process.env, VERSION, DEMO_STATION);
    const bare = splitCommand(argv).command === null;
    if (bare && !world.isTerminal) {
      const json = argv.includes('--json') ? ['--json'] : [];
      const outcome = await runCommand(['report', ...json], world);
      return await finish(
        {
          ...outcome,
          err: 'This is the invented demo house. To walk through its rooms, run npm run demo (or ullage demo) in a terminal.\n',
        },
        demo.folder,
      );
    }
    if (bare) await beginNight(demo.folder, process.env);
    return await finish(await runCommand(argv, world), demo.folder, DEMO_STATION);
  } finally {
    demo.remove();
  }
}

async function finish(outcome: Outcome, folder: string, station?: string): Promise<number> {
  if (outcome.rooms === true) {
    const { openRooms } = await import('./shell/terminal.ts');
    return openRooms({
      folder,
      env: process.env,
      version: VERSION,
      // A look around begins with a drink marked: the first Enter pours it, and letters find another.
      ...(station === undefined ? {} : { station, pressed: ['down'] }),
    });
  }
  try {
    await write(process.stdout, outcome.out);
    await write(process.stderr, outcome.err);
    return outcome.exit;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EPIPE') return 141;
    process.stderr.write('The output could not be written. Give it a place with space left.\n');
    return 73;
  }
}

process.umask(0o077);
process.on('uncaughtException', (error) => {
  if (isTerminalGone(error)) process.exit(HUNG_UP);
  reportCrash(error, process.env, VERSION);
  process.exit(70);
});
main(process.argv.slice(2)).then(
  (code) => process.exit(code),
  (error: unknown) => {
    if (isTerminalGone(error)) process.exit(HUNG_UP);
    reportCrash(error, process.env, VERSION);
    process.exit(70);
  },
);
