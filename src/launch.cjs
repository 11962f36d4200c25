#!/usr/bin/env node
'use strict';
// The launcher: plain JavaScript that any Node can read. The books need the SQLite that comes with Node 24.15
// and newer; on an older Node it looks for the one this project brings along and hands over to it.
const { existsSync } = require('node:fs');
const { join } = require('node:path');

// The signal that would open a debugger's door does nothing here: nothing of ours listens, on any signal.
process.on('SIGUSR1', () => undefined);

const [major, minor] = process.versions.node.split('.').map(Number);
const isNewEnough = major > 24 || (major === 24 && minor >= 15);

if (isNewEnough) {
  require('node:module').enableCompileCache?.();
  import('./main.mjs');
} else {
  const own = join(
    __dirname,
    '..',
    'node_modules',
    'node',
    'bin',
    process.platform === 'win32' ? 'node.exe' : 'node',
  );
  if (!existsSync(own)) {
    process.stderr.write(
      `ullage needs Node 24.15 or newer, and this is ${process.versions.node}. Install a newer Node and run it again.\n`,
    );
    process.exit(78);
  }
  handOver(own);
}

function handOver(node) {
  const { spawn } = require('node:child_process');
  const child = spawn(node, ['--disable-sigusr1', __filename, ...process.argv.slice(2)], {
    stdio: 'inherit',
  });
  // The terminal sends Ctrl-C to both; what is sent to this process alone is passed on.
  for (const signal of ['SIGTERM', 'SIGHUP', 'SIGINT', 'SIGQUIT'])
    process.on(signal, () => child.kill(signal));
  child.on('error', (error) => {
    process.stderr.write(`ullage could not start its own Node (${error.message}). Run npm ci again.\n`);
    process.exit(70);
  });
  child.on('exit', (code, signal) => {
    // The terminal is gone: an older Node would abort while it tries to set it back.
    const last = signal ?? (code === 129 ? 'SIGHUP' : null);
    if (last === null) process.exit(code ?? 70);
    process.removeAllListeners(last);
    process.kill(process.pid, last);
  });
}
