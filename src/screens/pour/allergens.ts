// What to tell a guest who asks: what the drinks that stand in the field contain, what they may, and of what nobody knows.

import type { Item } from '../../domain/catalogue/item.ts';
import { allergensOf, mayContain } from '../../domain/drink/allergens.ts';
import { applyChanges } from '../../domain/drink/changes.ts';
import { linesOf } from '../../domain/drink/measures.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { Dialog } from '../dialog.ts';
import { shortName } from '../format.ts';
import { choiceName } from './card.ts';
import type { Wanted } from './model.ts';

/** `items` is null where nobody knows what was meant. */
type Asked = { readonly name: string; readonly items: readonly Item[] | null };

function askedOf(books: Books, round: readonly Wanted[]): Asked[] {
  return round.flatMap(({ choice, text }): Asked[] => {
    if (choice === null) return text === '' ? [] : [{ name: text, items: null }];
    if (choice.kind === 'straight') return [{ name: choiceName(choice), items: [choice.item] }];
    // As it is wanted: without its egg it holds none.
    const changed = applyChanges(books, choice.spec, choice.changes);
    const lines = linesOf(changed.ok ? changed.value : choice.spec.measures, books);
    const items = lines.ok ? lines.value.map(({ item }) => item) : [];
    return [{ name: choiceName(choice), items }];
  });
}

const listed = (names: readonly string[], nothing: string): string =>
  names.length === 0 ? nothing : names.join(', ');

/** Drink by drink, and nothing is ever said to be free of anything. */
export function allergenNote(books: Books, round: readonly Wanted[]): Dialog {
  const lines = askedOf(books, round).flatMap(({ name, items }) => {
    if (items === null) return [name, '  not understood: nothing is known of it, ask the label'];
    const may = mayContain(items, books);
    const silent = items.filter(({ allergens }) => allergens.length === 0).map(shortName);
    return [
      `${name}`,
      `  contains ${listed(allergensOf(items, books), 'nothing that is noted')}`,
      ...(may.length === 0 ? [] : [`  may contain ${may.join(', ')}: ask the label`]),
      ...(silent.length === 0 ? [] : [`  nothing is noted of ${[...new Set(silent)].join(', ')}`]),
    ];
  });
  return {
    kind: 'note',
    title: 'Allergens, by the labels as the house has them. Where nothing is noted, ask the label.',
    lines,
  };
}
