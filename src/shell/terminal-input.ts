// What a terminal sends that Ink would not get over: the begin of a paste whose end never comes, and answers to questions that were
// asked before the rooms were there. Ink reads standard input by `read`: what it gets passes through here.

const PASTE_START = '\u001b[200~';
const PASTE_END = '\u001b[201~';
const LONGEST_PART = PASTE_START.length - 1;
const CTRL_C = '\u0003';
/** An answer about colours or the like, ended by a bell (ECMA-48, 8.3.89, operating system command): it is no ^G. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: a terminal's answer is made of them
const ANSWER = /\u001b\][^\u0007\u001b]{0,500}\u0007/g;

/** Gives each piece as Ink is to see it. ^C alone, in the middle of a paste, ends it: a paste that goes on holds no such piece. */
export function inputFilter(): (piece: string) => string {
  let isPasting = false;
  let tail = '';
  return (piece) => {
    if (isPasting && piece === CTRL_C) {
      isPasting = false;
      tail = '';
      return PASTE_END + CTRL_C;
    }
    const all = tail + piece;
    const [start, end] = [all.lastIndexOf(PASTE_START), all.lastIndexOf(PASTE_END)];
    if (start !== end) isPasting = start > end;
    tail = all.slice(-LONGEST_PART);
    return isPasting ? piece : piece.replace(ANSWER, '');
  };
}

type Readable = { read: (size?: number) => string | Buffer | null };

/** Lets everything that is read from a terminal pass through the filter. */
export function filterInput(stdin: Readable): void {
  const filter = inputFilter();
  const read = stdin.read.bind(stdin);
  stdin.read = (size) => {
    const piece = read(size);
    return typeof piece === 'string' ? filter(piece) : piece;
  };
}
