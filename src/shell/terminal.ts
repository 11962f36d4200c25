// The rooms on a terminal: opens them, keeps the clock, watches for other writers, and always gives the terminal back.
import { writeSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { render } from 'ink';
import { createElement } from 'react';
import { Frame, type HandOver, Spoken } from '../app/frame.tsx';
import { type App, createApp } from '../app/run.ts';
import { spokenSize } from '../app/spoken.ts';
import { type AppState, halfWritten } from '../app/state.ts';
import { describeEvent } from '../domain/ledger/describe.ts';
import type { Event } from '../domain/ledger/event.ts';
import { instantOf } from '../domain/value/clock-date.ts';
import type { Problem, Result } from '../domain/value/problem.ts';
import { clean } from '../domain/value/text.ts';
import { writeEvent } from '../exchange/file/event-lines.ts';
import { isPlainTerminal, themeOf } from '../screens/frame/theme.ts';
import { openSqliteStore } from '../store/file/sqlite.ts';
import { lostText } from '../store/station.ts';
import type { Store } from '../store/store.ts';
import { beforeCrash, HUNG_UP, isTerminalGone, reportCrash, resetTerminal } from './crash.ts';
import { sheetAt, writeText } from './disk/files.ts';
import { draftFile, draftName, keepDraft, readDraft } from './disk/half-written.ts';
import { stateFolder } from './disk/paths.ts';
import { stationNotes } from './disk/station.ts';
import { keepUnsaved, takeUpUnsaved, unsavedFiles } from './disk/unsaved.ts';
import { joinedOf, outageText, standingOf } from './station/standing.ts';
import { type ExchangeThread, startThread } from './station/thread.ts';
import { makeSuspend } from './suspend.ts';
import { filterInput } from './terminal-input.ts';
import { clock, machineOf, newEventId, noNotes, storeSetting } from './world.ts';

export type RoomsSetting = {
  readonly folder: string;
  readonly env: NodeJS.ProcessEnv;
  readonly version: string;
  readonly station?: string;
  /** Keys that are pressed when the rooms open. */
  readonly pressed?: readonly string[];
};

const signals = { SIGINT: 130, SIGTERM: 143, SIGHUP: 129, SIGQUIT: 131 } as const;
/** How often another station's events are looked for, and the clock moved. */
const LOOK_MS = 1000;
/** The last exchange may take so long when the rooms are left. */
const GOODBYE_MS = 1500;

const writeOut = (file: string, events: Iterable<Event>): Result<null> =>
  writeText(file, [...events].map(writeEvent).join(''));

/** Opens the rooms and stays until they are left. The exit code. */
export async function openRooms({
  folder,
  env,
  version,
  station,
  pressed = [],
}: RoomsSetting): Promise<number> {
  const now = clock(env);
  const notes = station === undefined ? stationNotes(folder, env) : noNotes;
  const setting = await storeSetting(env, notes, station);
  const opened = setting.ok ? openSqliteStore(folder, { now, newId: newEventId, ...setting.value }) : setting;
  if (!opened.ok) {
    process.stdin.setRawMode?.(false);
    process.stderr.write(`${opened.problems.map(({ message }) => clean(message)).join('\n')}\n`);
    return opened.problems[0]?.exit ?? 70;
  }
  const store = opened.value;
  // What a demo can't save goes with it.
  const kept = station === undefined ? unsavedFiles(folder, stateFolder(env)) : [];
  const lines = station === undefined ? draftFile(folder, stateFolder(env)) : null;
  const taken = lines === null ? null : readDraft(lines);
  let exit = 0;
  const isSpoken = env.INK_SCREEN_READER === 'true';
  const size = isSpoken
    ? spokenSize
    : { columns: process.stdout.columns ?? 80, rows: process.stdout.rows ?? 24 };
  let handOver: HandOver | null = null;
  const { suspend, stopWatching } = makeSuspend(() => handOver);
  let said = '';
  let exchange: ExchangeThread | null = null;
  /** What was said of the exchange last: the same is said once. */
  let told: string | null = null;
  const joined = joinedOf(notes);
  let last = notes.status();
  let stood = '';
  let isOver = false;
  const stand = (): void => {
    const instant = instantOf(now());
    stood = instant.slice(0, 18);
    app.dispatch({ type: 'house', house: standingOf(joined, last, instant) });
  };
  const app = explaining(
    createApp(store, now, size, () => ink.unmount(), {
      suspend,
      writeOut,
      steady: () => performance.now(),
      isPlain: isSpoken || isPlainTerminal(env),
      machine: machineOf(),
      house: standingOf(joined, notes.status(), instantOf(now())),
      onRecorded: () => exchange?.wake(),
      ...(lines === null ? {} : { draft: { kept: taken?.draft ?? null } }),
      readSheet: (file) => sheetAt(file, env),
    }),
    store,
    (problem) => {
      said = `${clean(problem.message)}\n`;
      leaveWith(problem.exit)();
    },
  );
  if (joined !== null)
    exchange = startThread(folder, {
      onRound: (status, taken, lostThere) => {
        last = status;
        // The books are closed, and nobody looks at a screen any more: only what still waits is told.
        if (isOver) return;
        stand();
        if (taken > 0) app.guard(look);
        const text = lostThere > 0 ? lostText(lostThere) : outageText(status);
        if (text !== null && text !== told) app.dispatch({ type: 'said', text, tone: 'plain' });
        told = text;
      },
      onStopped: (text) => {
        if (!isOver) app.dispatch({ type: 'said', text, tone: 'refused' });
      },
    });
  app.guard(() => {
    const message = takeUpUnsaved(store, kept);
    if (message === null) return;
    app.dispatch({ type: 'books', books: store.books() });
    app.dispatch({ type: 'said', ...message });
  });
  if (taken !== null) {
    const text = `Half written when the rooms closed: ${draftName(taken.draft)}. ^N with nothing typed goes on with it.`;
    app.dispatch({ type: 'said', text, tone: 'plain' });
  }
  for (const key of pressed) app.dispatch({ type: 'key', key });
  spareLostTerminal();
  filterInput(process.stdin);
  const onReady = (given: HandOver): void => {
    handOver = given;
  };
  const screen = isSpoken
    ? createElement(Spoken, { app, onReady })
    : createElement(Frame, { app, theme: themeOf(env), onReady });
  const ink = render(screen, {
    alternateScreen: !isSpoken,
    incrementalRendering: !isSpoken,
    isScreenReaderEnabled: isSpoken,
    exitOnCtrlC: false,
    interactive: true,
    patchConsole: false,
    maxFps: 60,
  });
  /** What was not saved is told once, however the rooms end. */
  let isTold = false;
  const notSaved = (): string => {
    if (isTold) return '';
    isTold = true;
    const draft = halfWritten(app.state());
    const isKept = lines === null || keepDraft(lines, draft, taken);
    const half =
      isKept || draft === null
        ? ''
        : `Half written and not kept:\n${draft.text.split('\n').map(clean).join('\n')}\n`;
    return unsavedText(app.state(), kept) + half;
  };
  beforeCrash(() => {
    try {
      ink.unmount();
    } finally {
      resetTerminal();
    }
    return notSaved();
  });
  const leaveWith = (code: number) => (): void => {
    exit = code;
    ink.unmount();
  };
  for (const [signal, code] of Object.entries(signals)) process.on(signal, leaveWith(code));
  // The window is gone: nobody is left to write to, and everything recorded is on disk.
  process.stdin.on('end', leaveWith(129));
  process.stdout.on('error', leaveWith(129));

  const timer = setInterval(() => {
    app.guard(look);
  }, LOOK_MS);
  function look(): void {
    const instant = instantOf(now());
    // The first look, a moment after the start, also finds what such a night usually takes.
    if (instant.slice(0, 16) !== app.state().now.slice(0, 16) || app.state().usual === null)
      app.dispatch({ type: 'tick', now: instant });
    // Nothing heard for a while is said, whatever became of the thread.
    if (exchange !== null && instant.slice(0, 18) !== stood) stand();
    if (app.state().held.length > 0) app.dispatch({ type: 'retry' });
    if (store.isStale()) app.dispatch({ type: 'books', books: store.books() });
  }
  try {
    await ink.waitUntilExit();
  } catch (error) {
    exit = isTerminalGone(error) ? HUNG_UP : 70;
    await wait(0);
    if (exit === 70) reportCrash(error, env, version);
  } finally {
    clearInterval(timer);
    stopWatching();
    if (app.state().held.length > 0) app.guard(() => app.dispatch({ type: 'retry' }));
    isOver = true;
    store.close();
  }
  // The terminal is the shell's again already; the others need not wait for what this station did last.
  await exchange?.leave(GOODBYE_MS);
  if (exchange !== null && last !== null && last.waiting > 0) tellWaiting(last.waiting);
  return lastWords(exit, said + notSaved());
}

/** What nobody else has yet is no fault, and is told. */
function tellWaiting(many: number): void {
  try {
    writeSync(
      2,
      `${many} ${many === 1 ? 'entry waits' : 'entries wait'} here for the server; the rooms or ullage sync send ${many === 1 ? 'it' : 'them'}.\n`,
    );
  } catch {
    // nobody is left to read it
  }
}

/** What is to be said once the terminal is the shell's again. */
function lastWords(exit: number, said: string): number {
  if (said === '') return exit;
  try {
    writeSync(2, said);
  } catch {
    // nobody is left to read it
  }
  return exit === 0 ? 73 : exit;
}

/** Taps that never got into the books, one a line, and where they are kept till the next start. */
function unsavedText({ held, books, stopped }: AppState, files: readonly string[]): string {
  const events = held.flatMap((tap) => tap.events);
  if (events.length === 0) return '';
  const lines = events.map((event) => `  ${clean(describeEvent(event, books))}\n`).join('');
  const file = keepUnsaved(files, events);
  if (file !== null) return `Kept in ${clean(file)}, and taken in when the rooms open next:\n${lines}`;
  return `${stopped?.code === 'not-synced' ? 'Perhaps not saved; look in the log before you pour it again' : 'Not saved'}:\n${lines}`;
}

type Guarded = App & { readonly guard: (work: () => void) => void };

/** Books that turn out to be damaged while they are open are no bug of ours: it is said, and the rooms close. */
function explaining(app: App, store: Store, onProblem: (problem: Problem) => void): Guarded {
  const guard = (work: () => void): void => {
    try {
      work();
    } catch (error) {
      const problem = store.explain(error);
      if (problem === null) throw error;
      onProblem(problem);
    }
  };
  return { ...app, guard, dispatch: (action) => guard(() => app.dispatch(action)) };
}

/** Ink sets the terminal back when it ends, also one whose window is gone: that must not pass for a bug. */
function spareLostTerminal(): void {
  const { stdin } = process;
  const setRawMode = stdin.setRawMode?.bind(stdin);
  if (setRawMode === undefined) return;
  stdin.setRawMode = (mode) => {
    try {
      return setRawMode(mode);
    } catch (error) {
      if (!isTerminalGone(error)) throw error;
      return stdin;
    }
  };
}
