// How full: a short bar in text, readable without colour.

/** A fraction as a bar of so many cells. Never empty for something, never full for less than full. */
export function bar(fraction: number, cells: number): string {
  const clamped = Math.max(0, Math.min(1, fraction));
  let full = Math.round(clamped * cells);
  if (clamped > 0 && full === 0) full = 1;
  if (clamped < 1 && full === cells) full = cells - 1;
  return '▇'.repeat(full) + '▁'.repeat(cells - full);
}

/** Containers as signs: each sealed one a block, the open one its level in eighths. */
export function containers(sealed: number, openFractions: readonly number[], most: number): string {
  const levels = '▁▂▃▄▅▆▇';
  const open = openFractions
    .map((fraction) => (fraction <= 0 ? '' : (levels[Math.min(6, Math.floor(fraction * 7))] ?? '▇')))
    .join('');
  const shown = Math.max(0, Math.min(sealed, most - open.length - 1));
  const rest = sealed - shown;
  return `${open}${'█'.repeat(shown)}${rest > 0 ? `+${rest}` : ''}`;
}
