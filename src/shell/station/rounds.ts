// The exchanges of one station, one after the other, as long as its rooms are open: at once when something was recorded or heard,
// else every so often; after a failure later and later, never all stations in the same moment.
import { type Problem, type Result, refuse } from '../../domain/value/problem.ts';
import type { SharedBooks } from '../../store/exchange.ts';
import { exchangeOnce, notBegun, type Outcome } from '../../store/exchange-run.ts';
import type { Link } from '../../store/server/link.ts';

/** A look at the server without a cause. */
export const LOOK_MS = 15_000;
const FIRST_WAIT_MS = 1000;
const LONGEST_WAIT_MS = 60_000;

export type Rounds = {
  /** Something was recorded here. */
  readonly wake: () => void;
  /** One last exchange when the server is there, and no more. */
  readonly leave: () => Promise<void>;
};

export type RoundsSetting = {
  readonly station: string;
  readonly books: SharedBooks;
  readonly open: () => Promise<Result<Link>>;
  readonly confirmed: number;
  /** Another way to the house than before, joined meanwhile: what is known of that server; null while it is the same. */
  readonly renewed?: () => { readonly confirmed: number } | null;
  readonly onRound: (outcome: Outcome, waiting: number) => void;
  readonly random?: () => number;
};

/** How long is waited after so many failures in a row: doubled each time, and spread so that stations do not come all at once. */
export const waitAfter = (failures: number, random: number): number =>
  Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (failures - 1)) * (0.5 + random / 2);

export function startRounds(setting: RoundsSetting): Rounds {
  const { station, books, open, onRound, random = Math.random, renewed = () => null } = setting;
  let { confirmed } = setting;
  let link: Link | null = null;
  let failures = 0;
  let isLeaving = false;
  let isWoken = false;
  let goOn: (() => void) | null = null;
  const wake = (): void => {
    isWoken = true;
    // While the server is away only its time brings it back; what waits is counted anew.
    if (failures === 0) goOn?.();
    else report(lastOutcome);
  };
  let lastOutcome: Outcome = notBegun(notYet, confirmed);

  const waitingNow = (): number => {
    const heads = books.heads();
    const own = heads.ok ? heads.value.find((head) => head.station === station)?.seq : 0;
    return Math.max(0, (own ?? 0) - confirmed);
  };
  const report = (outcome: Outcome): void => {
    lastOutcome = outcome;
    onRound(outcome, waitingNow());
  };

  const linked = async (): Promise<Result<Link>> => {
    if (link !== null) return { ok: true, value: link };
    const opened = await open();
    if (!opened.ok) return opened;
    const line = opened.value;
    link = line;
    line.onLost(() => {
      if (link !== line) return;
      link = null;
      if (failures === 0) wake();
    });
    return opened;
  };

  /** The line that hears what others write; each has to be asked to. */
  let hearing: Link | null = null;
  const hear = async (line: Link, channel: string): Promise<void> => {
    if (link !== line || hearing === line) return;
    const listening = await line.listen(channel, wake);
    if (!listening.ok) return;
    hearing = line;
    // What was written between this round's look and the moment the ear was open was told to nobody: one look more.
    isWoken = true;
  };
  const round = async (rests: boolean): Promise<void> => {
    isWoken = false;
    const other = renewed();
    if (other !== null) {
      ({ confirmed } = other);
      await drop();
    }
    const line = books.isReplaced() ? replaced : await linked();
    const outcome = line.ok
      ? await exchangeOnce(books, line.value, { station, confirmed, rests })
      : notBegun(line.problems[0] ?? notYet, confirmed);
    failures = outcome.problem === null ? 0 : failures + 1;
    if (outcome.problem === null) confirmed = outcome.pushed;
    else await drop();
    if (line.ok && outcome.hello !== null) await hear(line.value, outcome.hello.channel);
    report(outcome);
  };
  const drop = async (): Promise<void> => {
    const gone = link;
    link = null;
    await gone?.close().catch(() => undefined);
  };

  const run = async (): Promise<void> => {
    while (!isLeaving) {
      await round(false);
      if (isLeaving || (isWoken && failures === 0)) continue;
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, failures === 0 ? LOOK_MS : waitAfter(failures, random()));
        goOn = () => {
          clearTimeout(timer);
          resolve();
        };
      });
      goOn = null;
    }
  };
  const running = run();
  return {
    wake,
    leave: async () => {
      isLeaving = true;
      goOn?.();
      await running;
      if (failures === 0) await round(true);
      await drop();
    },
  };
}

/** Somebody put other books in their place: what is exchanged from here on would not be theirs. */
const replaced: Result<never> = refuse(
  'file-gone',
  'The books were moved or replaced while they were open. Leave the rooms and open them again.',
  73,
);

const notYet: Problem = { code: 'server-away', message: 'The server was not reached yet.', exit: 69 };
