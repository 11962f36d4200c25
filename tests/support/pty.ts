// The real program in a pseudo-terminal, its screen kept by a real terminal emulator. Text is waited for, never slept for.
import { readdirSync, readFileSync, writeSync } from 'node:fs';
import { createRequire } from 'node:module';
import { spawn } from 'node-pty';
import { onTestFinished } from 'vitest';

const { Terminal } = createRequire(import.meta.url)('@xterm/headless') as typeof import('@xterm/headless');
const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;

export type Pty = {
  readonly type: (bytes: string) => void;
  readonly screen: () => string[];
  /** Waits until some row holds the text; fails with the screen after ten seconds. */
  readonly sees: (text: string) => Promise<void>;
  readonly until: (what: string, test: (screen: readonly string[]) => boolean) => Promise<void>;
  readonly resize: (columns: number, rows: number) => void;
  readonly kill: (signal: string) => void;
  /** Closes the window. */
  readonly hangUp: () => void;
  /** Raw bytes written so far. */
  readonly raw: () => string;
  readonly exit: Promise<{ exitCode: number; signal: number }>;
  readonly buffer: () => 'normal' | 'alternate';
};

export type PtySetting = {
  readonly columns?: number;
  readonly rows?: number;
  readonly env?: Readonly<Record<string, string>>;
  readonly command?: readonly [string, ...string[]];
};

/** Longer than the program itself waits between two looks, on a machine that has other things to do. */
const PATIENCE_MS = 30_000;

export function startProgram(words: readonly string[], setting: PtySetting = {}): Pty {
  const { columns = 80, rows = 24 } = setting;
  const env: Record<string, string> = {};
  for (const [name, value] of Object.entries(process.env)) if (value !== undefined) env[name] = value;
  for (const name of ['CI', 'NO_COLOR', 'FORCE_COLOR', 'COLORTERM', 'ULLAGE_DATA', 'TZ']) delete env[name];
  Object.assign(env, { TERM: 'xterm-256color', LC_ALL: 'C.UTF-8', ...setting.env });
  const [command, ...first] = setting.command ?? [process.execPath, program];
  const child = spawn(command, [...first, ...words], { cols: columns, rows, env, cwd: process.cwd() });
  const terminal = new Terminal({ cols: columns, rows, allowProposedApi: true });
  let raw = '';
  child.onData((data) => {
    raw += data;
    terminal.write(data);
  });
  let ended = false;
  const exit = new Promise<{ exitCode: number; signal: number }>((resolve) => {
    child.onExit(({ exitCode, signal }) => {
      ended = true;
      resolve({ exitCode, signal: signal ?? 0 });
    });
  });
  onTestFinished(() => {
    if (!ended) child.kill('SIGKILL');
  });
  const screen = (): string[] =>
    Array.from(
      { length: terminal.rows },
      (_, row) =>
        terminal.buffer.active.getLine(terminal.buffer.active.viewportY + row)?.translateToString(true) ?? '',
    );
  const until = async (what: string, test: (rows: readonly string[]) => boolean): Promise<void> => {
    const end = Date.now() + PATIENCE_MS;
    while (!test(screen())) {
      if (Date.now() > end) throw new Error(`never saw ${what}; the screen is\n${screen().join('\n')}`);
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
  };
  return {
    // At once: what the library keeps in a queue may, after a kill, go to whatever file has the number next.
    type: (bytes) => {
      if (!ended) writeSync((child as unknown as { readonly fd: number }).fd, bytes);
    },
    screen,
    sees: (text) => until(`"${text}"`, (lines) => lines.some((row) => row.includes(text))),
    until,
    resize: (nextColumns, nextRows) => {
      terminal.resize(nextColumns, nextRows);
      child.resize(nextColumns, nextRows);
    },
    kill: (signal) => child.kill(signal),
    hangUp: () => {
      ended = true;
      (child as unknown as { readonly destroy: () => void }).destroy();
    },
    raw: () => raw,
    exit,
    buffer: () => terminal.buffer.active.type,
  };
}

export const keys = {
  enter: '\r',
  esc: '\u001b',
  tab: '\t',
  up: '\u001b[A',
  down: '\u001b[B',
  right: '\u001b[C',
  left: '\u001b[D',
  ctrl: (letter: string) => String.fromCharCode(letter.charCodeAt(0) - 96),
};

/** Processes whose command line holds a text, oldest first; shells that only started them left out. */
export const processesWith = (text: string): number[] =>
  readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .flatMap((pid) => {
      try {
        const line = readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ');
        return line.includes(text) && !line.startsWith('bash') ? [Number(pid)] : [];
      } catch {
        return []; // it ended while we looked
      }
    })
    .sort((a, b) => a - b);
