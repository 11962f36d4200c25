// The picture for a screen reader: one thing a line, no drawing characters, the marked row said as "(selected)", and the
// field last, so that the cursor of the terminal stands in it.
import { type Line, plainText } from '../screens/parts/line.ts';
import type { Size } from '../screens/room.ts';
import { picture } from './picture.ts';
import type { AppState } from './state.ts';

/** Narrow, so that nothing stands side by side, and high, so that nothing is left out for want of room. */
export const spokenSize: Size = { columns: 74, rows: 44 };

const drawn: readonly (readonly [RegExp, (found: string) => string])[] = [
  [/[▇▁]+/g, (bar) => `${[...bar].filter((cell) => cell === '▇').length} of ${bar.length} full`],
  [/█+ (\d+)/g, (text) => `${text.replace(/\D/g, '')} sealed`],
  [/█+/g, (blocks) => `${blocks.length} sealed`],
  [/✓/g, () => 'done'],
  [/‼/g, () => 'take note:'],
  [/↑ (?=\d)/g, () => 'above: '],
  [/↓ (?=\d)/g, () => 'below: '],
  [/≠/g, () => 'differs:'],
  // Whatever else is a line or a block of a drawing says nothing when read aloud.
  [/[\u2500-\u257f\u2580-\u259f]/g, () => ' '],
];

const spoken = (text: string): string =>
  drawn
    .reduce((said, [found, words]) => said.replace(found, (match) => words(match)), text)
    .replace(/^› /, '')
    .replace(/ {2,}/g, ', ')
    .replace(/(, )+/g, ', ')
    .replace(/^,? ?|[, ]+$/g, '')
    .trim();

const isField = (content: Line): boolean => (content[0]?.text ?? '').startsWith('▸');

function spokenLine(content: Line): string {
  const text = spoken(plainText(content));
  const selected = plainText(content).startsWith('› ');
  return selected ? `(selected) ${text}` : text;
}

/** The field without its drawn cursor: what is typed, then what may be typed. */
function fieldText(content: Line): string {
  const parts = content.filter(({ style, text }) => !(style === 'chosen' && text === ' '));
  const [, typed, ...hint] = parts.map(({ text }) => text.trim());
  const said = hint.filter((text) => text !== '').join(' ');
  return typed === '' || typed === undefined
    ? `field (${said === '' ? 'empty' : said}): `
    : `field: ${typed}`;
}

export function spokenLines(state: AppState): string[] {
  const lines = picture({ ...state, size: spokenSize });
  const field = lines.find(isField);
  const said = lines
    .filter((content) => content !== field)
    .map(spokenLine)
    .filter((text) => text !== '');
  return field === undefined ? said : [...said, fieldText(field)];
}
