// What somebody said is out, whatever the books hold: wilted mint, no ice. It stands until its moment, the seal, or until it is back.

import { specsInUse } from '../catalogue/catalogue.ts';
import type { OutMark } from '../catalogue/out-mark.ts';
import type { Spec } from '../catalogue/spec.ts';
import { applyChanges } from '../drink/changes.ts';
import { specLines } from '../drink/measures.ts';
import type { Books } from '../ledger/books.ts';
import { outName } from '../ledger/describe.ts';
import { clockText } from '../value/clock-date.ts';
import type { ItemId } from '../value/ids.ts';
import { foldText } from '../value/text.ts';

/** What is out by hand now, the newest first. */
export const markedOut = ({ out }: Books, now: string): OutMark[] =>
  [...out.values()].filter(({ until }) => until === null || until > now).reverse();

/** What stands in the way of a drink as it is wanted, the newest first: an egg that is left away is in nobody's way. */
export function outFor(spec: Spec, books: Books, now: string, changes: readonly string[] = []): OutMark[] {
  if (books.out.size === 0) return [];
  const changed = changes.length === 0 ? null : applyChanges(books, spec, changes);
  const wanted = changed?.ok === true ? { ...spec, measures: [...changed.value] } : spec;
  return markedOut(books, now).filter((mark) => stops(mark, wanted, books));
}

/** What stands in the way of an item that is poured by itself. */
export const outForItem = (item: ItemId, books: Books, now: string): OutMark[] =>
  markedOut(books, now).filter((mark) => mark.item === item);

/** The cards in use that a mark stops. */
export const stoppedBy = (mark: OutMark, books: Books): Spec[] =>
  specsInUse(books).filter((spec) => stops(mark, spec, books));

function stops(mark: OutMark, spec: Spec, books: Books): boolean {
  if (mark.spec !== null) return mark.spec === spec.id;
  if (mark.item !== null) {
    const lines = specLines(spec, books);
    return lines.ok && lines.value.some(({ item }) => item.id === mark.item);
  }
  return servedWith(spec).some((words) => ` ${words} `.includes(` ${foldText(mark.word ?? '')} `));
}

/** Glass, ice and garnish of a card as words; whoever takes any ice takes "ice". */
const servedWith = ({ glass, ice, garnish }: Spec): string[] => [
  foldText(glass),
  ice === '' || ice === 'none' ? '' : `ice ${foldText(ice)}`,
  foldText(garnish),
];

/** Every word a card is served with: what else can be out. */
export const servedWords = ({ specs }: Books): string[] => {
  const words = specsInUse({ specs }).flatMap((spec) => servedWith(spec).flatMap((text) => text.split(' ')));
  return [...new Set(words)].filter((word) => word.length > 2 && word !== 'none').sort();
};

/** "mint, wilted, until 23:00". */
export function outText(mark: OutMark, books: Books): string {
  const until = mark.until === null ? '' : `, until ${clockText(mark.until, books.house.zone)}`;
  return `${outName(mark, books)}, ${mark.why}${until}`;
}
