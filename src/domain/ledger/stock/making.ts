// The fold of a making: what is made here from what is stocked.

import type { Item } from '../../catalogue/item.ts';
import type { ItemId } from '../../value/ids.ts';
import { isOpen } from '../books.ts';
import type { Making } from '../event.ts';
import { type Folding, own } from '../folding.ts';
import { addTo, drawFrom } from './containers.ts';
import { beginEmpty, flow } from './flowing.ts';
import { addAmounts } from './flows.ts';
import { noteMaking } from './lots.ts';
import { noteMade } from './worth.ts';

/** Inputs out, a lot in; what was made is worth what went into it, and has the figures that follow from that. */
export function make(folding: Folding, event: Making): void {
  const item = folding.items.get(event.item);
  if (item !== undefined) noteMade(folding, item, event);
  for (const { item: input, place, amount } of event.draws)
    flow(folding, input, place, { prepped: amount }, (held, size) => drawFrom(held, amount, size), event.at);
  beginEmpty(folding, event.item, event.place, event);
  noteMaking(folding, event);
  folding.makings = own(folding, folding.makings).set(event.spec, (folding.makings.get(event.spec) ?? 0) + 1);
  flow(folding, event.item, event.place, { made: event.amount }, (held, size) =>
    addTo(held, event.amount, size),
  );
  if (item !== undefined) folding.items = own(folding, folding.items).set(item.id, madeItem(item, event));
  const went = new Map<ItemId, number>();
  for (const { item: input, amount } of event.draws) went.set(input, (went.get(input) ?? 0) + amount);
  if (isOpen(folding.shift))
    folding.shift = { ...folding.shift, prepped: addAmounts(folding.shift.prepped, went) };
  else folding.preppedBetween = addAmounts(folding.preppedBetween, went);
}

/** What nobody knows of what went in leaves what was written of the item. */
function madeItem(item: Item, { made }: Making): Item {
  const acid = made.acidGramsPerLitre ?? item.acidGramsPerLitre;
  return {
    ...item,
    costMinor: made.costMinor ?? item.costMinor,
    abvPercent: made.abvPercent ?? item.abvPercent,
    sugarGramsPerLitre: made.sugarGramsPerLitre ?? item.sugarGramsPerLitre,
    ...(acid === undefined ? {} : { acidGramsPerLitre: acid }),
    allergens: made.allergens,
    caution: made.caution,
  };
}
