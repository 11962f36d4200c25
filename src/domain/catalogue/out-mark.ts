// What somebody said is out tonight (86), whatever the books hold.
import type { ItemId, PersonId, SpecId } from '../value/ids.ts';
import { foldText } from '../value/text.ts';

/** An item, a card, or a word of glass, ice or garnish: one of the three. */
export type OutThing = {
  readonly item: ItemId | null;
  readonly spec: SpecId | null;
  readonly word: string | null;
};
export type OutMark = OutThing & {
  readonly why: string;
  readonly until: string | null;
  readonly by: PersonId | null;
  readonly at: string;
};
export const outKey = ({ item, spec, word }: OutThing): string =>
  item !== null ? `item ${item}` : spec !== null ? `spec ${spec}` : `word ${foldText(word ?? '')}`;
