// Problems are values: one clear sentence with its remedy last, a stable code, and the exit code a command ends with.

/** Exit codes of the program, after the sysexits convention (see README, "Exit codes"). */
export type ExitCode = 0 | 1 | 64 | 65 | 66 | 69 | 70 | 73 | 75 | 78;

export type Problem = {
  readonly code: string;
  readonly message: string;
  /** The same where there is no command line: read in the rooms. */
  readonly inRooms?: string;
  readonly exit: ExitCode;
  /** Line of the file it was found in, counted from 1. */
  readonly line?: number;
};

export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export const done = <T>(value: T): Result<T> => ({ ok: true, value });

/** A refusal because of a bad value (exit 65 unless said otherwise); `inRooms` where the remedy is a key and no command. */
export const refuse = (
  code: string,
  message: string,
  exit: ExitCode = 65,
  inRooms?: string,
): Result<never> => ({
  ok: false,
  problems: [{ code, message, exit, ...(inRooms === undefined ? {} : { inRooms }) }],
});

export const refuseAll = (problems: readonly Problem[]): Result<never> => ({ ok: false, problems });

/** A refusal as the rooms say it, where there is no command line. */
export const saidInRooms = ({ message, inRooms }: Problem): string => inRooms ?? message;
