// The published specs that can be made of what is stocked.
import { readSpecs } from '../card/spec-card.ts';
import type { Catalogue } from '../catalogue/catalogue.ts';
import { itemNames } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import { memoBy } from '../value/memo.ts';
import { foldText } from '../value/text.ts';
import { publishedCards } from './published-cards.ts';

const cards: readonly string[] = publishedCards
  .trim()
  .split(/\n(?=# )/)
  .map((card) => `${card.trim()}\n`);

export const publishedNames: readonly string[] = cards.map((card) => /^# (.*)$/m.exec(card)?.[1] ?? '');

/** Everything a measure may call, folded: the names of what is stocked, and what its pieces give. */
const namesOf = memoBy(
  ({ items }: Catalogue) => [items],
  ({ items }): ReadonlySet<string> => {
    const stocked = [...items.values()].filter((item) => item.retired !== true);
    return new Set(
      stocked.flatMap((item) =>
        itemNames(item).flatMap((name) => [
          foldText(name),
          ...(item.yields ?? []).map(({ of }) => foldText(`${name} ${of}`)),
        ]),
      ),
    );
  },
);

/** Each choice of a card settled: the first of its names that is stocked. */
const settled = (card: string, names: ReadonlySet<string>): string =>
  card.replace(/\{([^}]*)\}/g, (_, choice: string) => {
    const options = choice.split('|');
    return options.find((name) => names.has(foldText(name))) ?? options[0] ?? '';
  });

/** What each published spec would be here; those that lack something are left out. */
export const publishedSpecs = memoBy(
  (catalogue: Catalogue) => [catalogue.items, catalogue.house],
  (catalogue): readonly Spec[] => {
    // On a catalogue without cards, so that one that is written already can be shown as such.
    const bare = { ...catalogue, specs: new Map() };
    return cards.flatMap((card) => {
      const read = readSpecs(settled(card, namesOf(catalogue)), bare);
      return read.ok ? read.value : [];
    });
  },
);
