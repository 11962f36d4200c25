// How far a long reading is, on a terminal only: one line that is rewritten and gone when it is done.
const STEP = 0.02;
const WIDTH = 30;

/** Hears of shares from 0 to 1; writes nothing for what is read at once, or to a pipe. */
export function progress(stream: NodeJS.WriteStream): (share: number) => void {
  let shown = 0;
  return (share) => {
    if (stream.isTTY !== true || (share < 1 && share - shown < STEP) || (share >= 1 && shown === 0)) return;
    shown = share;
    const full = Math.round(share * WIDTH);
    const bar = `${'#'.repeat(full)}${'.'.repeat(WIDTH - full)}`;
    stream.write(
      share >= 1 ? `\r${' '.repeat(WIDTH + 20)}\r` : `\rReading ${bar} ${Math.floor(share * 100)} %`,
    );
  };
}
