// The lines of a prep card: what it makes, and how long that keeps.
import type { Catalogue } from '../catalogue/catalogue.ts';
import { type Item, TAP_WATER } from '../catalogue/item.ts';
import { keepsText, parseKeeps } from '../catalogue/keeping.ts';
import type { Spec } from '../catalogue/spec.ts';
import { amountOf, splitQuantity } from '../catalogue/units.ts';
import { nearestNames } from '../search/nearest.ts';
import { clean, foldText } from '../value/text.ts';

export type Say = (line: number, message: string) => void;
export type ItemLookup = { readonly byName: ReadonlyMap<string, Item>; readonly names: readonly string[] };
type Card = {
  readonly line: number;
  readonly fields: ReadonlyMap<string, string>;
  readonly at: ReadonlyMap<string, number>;
};

/** "1 l simple syrup": what a prep card makes. */
export function readMakes(
  { fields, at, line: head }: Card,
  { house }: Catalogue,
  items: ItemLookup,
  say: Say,
): Pick<Spec, 'makes'> {
  const line = at.get('makes') ?? head;
  const text = fields.get('makes') ?? '';
  if (text === '') return {};
  const split = splitQuantity(text, house);
  const amount = split === null ? null : amountOf(split.quantity, split.unit, house);
  const item = items.byName.get(foldText(split?.rest ?? ''));
  if (split === null || amount === null || split.rest === '')
    say(
      line,
      `makes "${clean(text).slice(0, 40)}" is not an amount of an item. Write it as 1 l simple syrup.`,
    );
  else if (item === undefined || item === TAP_WATER) say(line, unknownItem(split.rest, items));
  else if (item.unit !== amount.unit)
    say(
      line,
      `${item.name} is kept in ${item.unit === 'each' ? 'pieces' : item.unit}. Write what is made in that.`,
    );
  else
    return {
      makes: {
        item: item.id,
        amount: amount.amount,
        text: split.unit === 'each' ? split.text : `${split.text} ${split.unit}`,
      },
    };
  return {};
}

export function readKeeps({ fields, at, line }: Card, say: Say): Pick<Spec, 'keeps'> {
  const text = fields.get('keeps') ?? '';
  const keeps = parseKeeps(text);
  if (text !== '' && keeps === null)
    say(
      at.get('keeps') ?? line,
      `keeps "${clean(text).slice(0, 40)}" is no time. Write it as 30 days or 12 hours.`,
    );
  return keeps === null ? {} : { keeps };
}

export function unknownItem(name: string, items: ItemLookup): string {
  const near = nearestNames(name, items.names);
  const remedy =
    near.length > 0
      ? `Near it: ${near.join(', ')}.`
      : 'Stock it first: a row in the items file, or item and its name in the Book.';
  return `No item is called "${clean(name).slice(0, 60)}". ${remedy}`;
}

/** Both lines as they stand on a card; empty for a drink. */
export function prepText({ makes, keeps }: Spec, { items }: Catalogue): { makes: string; keeps: string } {
  const name = makes === undefined ? '' : (items.get(makes.item)?.name ?? makes.item).toLowerCase();
  return {
    makes: makes === undefined ? '' : `${makes.text} ${name}`,
    keeps: keeps === undefined ? '' : keepsText(keeps),
  };
}
