// How full: a short bar in text, readable without colour.

/** A fraction as a bar of so many cells. Never empty for something, never full for less than full. */
export function bar(fraction: number, cells: number): string {
  const clamped = Math.max(0, Math.min(1, fraction));
  let full = Math.round(clamped * cells);
  if (clamped > 0 && full === 0) full = 1;
  if (clamped < 1 && full === cells) full = cells - 1;
  return '▇'.repeat(full) + '▁'.repeat(cells - full);
}

/** Sealed containers as signs: a block each while they fit, then a block and their number. */
export function containers(sealed: number, most: number): string {
  if (sealed <= 0) return '';
  return sealed <= most ? '█'.repeat(sealed) : `█ ${sealed}`;
}
