// The one way from text to HTML.
import { clean } from '../../domain/value/text.ts';

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

export const escapeHtml = (text: string): string =>
  clean(text).replace(/[&<>"']/g, (char) => entities[char] ?? char);

/** `word`: to the left and may wrap; `detail`: left out on a phone. */
export type Cell = { readonly text: string; readonly word?: true; readonly detail?: true };

/** A table that scrolls sideways on a phone; the first column and those marked `word` stand left. */
export function htmlTable(
  heads: readonly Cell[],
  rows: readonly { readonly cells: readonly Cell[]; readonly strong?: boolean }[],
): string {
  const attribute = ({ word, detail }: Cell): string =>
    word === true ? ' class="word"' : detail === true ? ' class="detail"' : '';
  const head = heads
    .map((cell) => `<th scope="col"${attribute(cell)}>${escapeHtml(cell.text)}</th>`)
    .join('');
  const body = rows.map(
    ({ cells, strong }) =>
      `<tr${strong === true ? ' class="real"' : ''}>${cells.map((cell) => `<td${attribute(cell)}>${escapeHtml(cell.text)}</td>`).join('')}</tr>`,
  );
  return `<div class="wide"><table><thead><tr>${head}</tr></thead>\n<tbody>\n${body.join('\n')}\n</tbody></table></div>`;
}
