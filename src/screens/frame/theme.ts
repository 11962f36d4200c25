// Styles as terminal attributes. Colour is never the only sign; codes are those every terminal has, never blue text,
// bright black or faint for anything that must be read.
import type { Line, Style } from '../parts/line.ts';

export type Theme = Readonly<Record<Style, readonly [open: string, close: string]>>;

const none = ['', ''] as const;
const sgr = (on: number, off: number): readonly [string, string] => [`\u001b[${on}m`, `\u001b[${off}m`];
const boldColour = (colour: number): readonly [string, string] => [`\u001b[1;${colour}m`, '\u001b[22;39m'];

const inBlackAndWhite: Theme = {
  plain: none,
  strong: sgr(1, 22),
  chosen: sgr(7, 27),
  warn: sgr(1, 22),
  bad: sgr(1, 22),
  good: none,
  soft: none,
  under: sgr(4, 24),
};

const inColour: Theme = {
  ...inBlackAndWhite,
  warn: sgr(33, 39),
  bad: boldColour(31),
  good: sgr(32, 39),
  soft: none,
};

const bare: Theme = {
  plain: none,
  strong: none,
  chosen: none,
  warn: none,
  bad: none,
  good: none,
  soft: none,
  under: none,
};

/** NO_COLOR (present and not empty) leaves weight and inverse; FORCE_COLOR=0 or --no-color leaves nothing. */
export function themeOf(env: Readonly<Record<string, string | undefined>>): Theme {
  if (env.FORCE_COLOR === '0') return bare;
  return env.NO_COLOR !== undefined && env.NO_COLOR !== '' ? inBlackAndWhite : inColour;
}

/** A console without the signs of Unicode: by its name, or by a locale that is not UTF-8 (POSIX: LC_ALL before LC_CTYPE before LANG). */
export function isPlainTerminal(env: Readonly<Record<string, string | undefined>>): boolean {
  if (/^(linux|vt\d+|dumb)/.test(env.TERM ?? '')) return true;
  const locale = [env.LC_ALL, env.LC_CTYPE, env.LANG].find((value) => value !== undefined && value !== '');
  return locale !== undefined && !/utf-?8/i.test(locale);
}

export const paint = (content: Line, theme: Theme): string =>
  content
    .map(({ text, style }) => {
      const [open, close] = theme[style];
      return open === '' ? text : `${open}${text}${close}`;
    })
    .join('');
