// weigh: a full sealed container on the scale, once, to learn the tare or the density of an item.

import type { Item } from '../../domain/catalogue/item.ts';
import { intendItem } from '../../domain/intent/intend-house.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { EventDraft } from '../../domain/ledger/event.ts';
import { findItem } from '../../domain/search/find.ts';
import { containerDensity } from '../../domain/standard/density.ts';
import { fillTolerance } from '../../domain/standard/law.ts';
import { numberDoubt, parseDecimal } from '../../domain/value/number.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { ratioToNumber } from '../../domain/value/ratio.ts';
import { clean } from '../../domain/value/text.ts';
import { type Command, flagOf, usageProblem } from '../line/command.ts';
import { recordWith } from '../line/record.ts';

export const weigh: Command = {
  name: 'weigh',
  usage: ['weigh ITEM GRAMS --learn tare|density'],
  says: "learns an item's tare or density from one full, sealed container on the scale",
  examples: ['weigh "dry gin" 1143 --learn tare'],
  flags: [{ name: 'learn', takes: 'WHAT', says: 'tare (strength known) or density (tare known)' }],
  run: (context) => {
    const grams = context.words.at(-1) ?? '';
    const name = context.words.slice(0, -1).join(' ');
    const what = flagOf(context, 'learn');
    if (name === '')
      return usageProblem('Say what was weighed, as ullage weigh "dry gin" 1143 --learn tare.');
    if (what !== 'tare' && what !== 'density')
      return usageProblem('--learn takes tare or density. Give one.');
    let spread = '';
    return recordWith(
      context,
      (books) => {
        const item = findItem(books, name);
        if (!item.ok) return item;
        const learned = learn(books, item.value, grams, what);
        if (!learned.ok) return learned;
        spread = learned.value.says;
        return done(learned.value.drafts);
      },
      () => spread,
    );
  },
};

function learn(
  books: Books,
  item: Item,
  text: string,
  what: 'tare' | 'density',
): Result<{ drafts: EventDraft[]; says: string }> {
  const number = parseDecimal(text.replace(/\s*g$/i, ''));
  const gross = number === null ? 0 : ratioToNumber(number);
  if (item.unit !== 'ml')
    return refuse(
      'other-unit',
      `${item.name} is not kept in ml, so there is no density to learn. Weigh a bottle.`,
    );
  if (!(gross > 0) || gross > 100_000)
    return refuse(
      'bad-weight',
      numberDoubt(text) ?? `"${clean(text).slice(0, 20)}" is not a weight in grams. Write it as 1143.`,
    );
  const litres = item.size / 1_000_000;
  const fill = fillTolerance(item.size / 1000);
  if (what === 'tare') {
    const { density, assumed } = containerDensity(item, books.house);
    const tare = gross - litres * density;
    if (tare <= 0)
      return refuse(
        'too-light',
        `A full ${item.name} weighs at least ${Math.round(litres * density)} g. Weigh it again.`,
      );
    const says = `Tare ${tare.toFixed(0)} g, ±${(litres * density * fill).toFixed(0)} g by the bottler's fill${assumed === null ? '' : `, taken as ${assumed}`}.`;
    return learned(intendItem(books, { ...item, tareMilligrams: Math.round(tare * 1000) }), says);
  }
  if (item.tareMilligrams === null)
    return refuse('no-tare', `No tare is known for ${item.name}. Give its tare_g in the items file first.`);
  const density = (gross - item.tareMilligrams / 1000) / litres;
  if (!(density >= 500 && density <= 2000))
    return refuse(
      'odd-density',
      `That would be ${density.toFixed(0)} kg/m³, which no drink has. Weigh it again, or mend the tare.`,
    );
  const says = `Density ${density.toFixed(0)} kg/m³, ±${(density * fill).toFixed(0)} by the bottler's fill.`;
  return learned(intendItem(books, { ...item, densityKgPerM3: Math.round(density * 10) / 10 }), says);
}

const learned = (
  drafts: Result<EventDraft[]>,
  says: string,
): Result<{ drafts: EventDraft[]; says: string }> =>
  drafts.ok ? done({ drafts: drafts.value, says }) : drafts;
