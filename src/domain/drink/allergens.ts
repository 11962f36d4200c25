// What a drink contains by the list the house keeps, what it may contain, and what nobody can know. US: FALCPA 2004 with the
// FASTER Act 2021. EU and UK: Regulation (EU) 1169/2011, Annex II. An empty list never means "free from".
import type { Catalogue } from '../catalogue/catalogue.ts';
import type { House } from '../catalogue/house.ts';
import { type Item, itemNames } from '../catalogue/item.ts';
import { nearestNames } from '../search/nearest.ts';
import { memoBy } from '../value/memo.ts';
import { clean, foldText } from '../value/text.ts';

export const allergenLists = {
  us: ['milk', 'eggs', 'fish', 'crustaceans', 'tree nuts', 'peanuts', 'wheat', 'soybeans', 'sesame'],
  eu: [
    'gluten',
    'crustaceans',
    'eggs',
    'fish',
    'peanuts',
    'soybeans',
    'milk',
    'nuts',
    'celery',
    'mustard',
    'sesame',
    'sulphites',
    'lupin',
    'molluscs',
  ],
} as const;

type ListName = House['allergens'];
/** What a word means on each list; none where the list does not have it. */
type Meaning = Readonly<Record<ListName, readonly string[]>>;
const same = (name: string): Meaning => ({ us: [name], eu: [name] });
const nut: Meaning = { us: ['tree nuts'], eu: ['nuts'] };
const grain: Meaning = { us: [], eu: ['gluten'] };
const euOnly = (name: string): Meaning => ({ us: [], eu: [name] });

/** The regulations' own words first, then what people write for them. Plurals are found by their singular, too. */
const meanings: ReadonlyMap<string, Meaning> = new Map([
  ...['milk', 'lactose', 'dairy', 'cream', 'butter', 'whey'].map((word) => [word, same('milk')] as const),
  ...['egg', 'albumen', 'albumin', 'yolk'].map((word) => [word, same('eggs')] as const),
  ['fish', same('fish')],
  ...['crustacean', 'prawn', 'shrimp', 'crab', 'lobster'].map((word) => [word, same('crustaceans')] as const),
  ['crustacean shellfish', same('crustaceans')],
  // The everyday word takes in both.
  ['shellfish', { us: ['crustaceans'], eu: ['crustaceans', 'molluscs'] }],
  ...[
    'nut',
    'tree nut',
    'almond',
    'hazelnut',
    'walnut',
    'cashew',
    'pecan',
    'pecan nut',
    'brazil nut',
    'pistachio',
  ].map((word) => [word, nut] as const),
  ...['pistachio nut', 'macadamia', 'macadamia nut', 'queensland nut'].map((word) => [word, nut] as const),
  ...['peanut', 'groundnut'].map((word) => [word, same('peanuts')] as const),
  ...['wheat', 'spelt', 'khorasan', 'khorasan wheat'].map(
    (word) => [word, { us: ['wheat'], eu: ['gluten'] }] as const,
  ),
  ...['gluten', 'barley', 'rye', 'oat', 'cereal'].map((word) => [word, grain] as const),
  ...['soy', 'soya', 'soybean', 'soyabean'].map((word) => [word, same('soybeans')] as const),
  ['sesame', same('sesame')],
  ['celery', euOnly('celery')],
  ['celeriac', euOnly('celery')],
  ['mustard', euOnly('mustard')],
  ['lupin', euOnly('lupin')],
  ...['mollusc', 'mollusk', 'clam', 'oyster', 'squid'].map((word) => [word, euOnly('molluscs')] as const),
  ...['sulphite', 'sulfite', 'sulphur dioxide', 'sulfur dioxide', 'so2'].map(
    (word) => [word, euOnly('sulphites')] as const,
  ),
]);

/** What a word written as an allergen means; null when nobody knows it. */
function meaningOf(word: string): Meaning | null {
  const text = foldText(word);
  return meanings.get(text) ?? meanings.get(text.replace(/s$/, '')) ?? null;
}

/**
 * Allergens of the items by the house's list, in its order, then every word that is not on it, as it was written: what nobody
 * knows is shown, never dropped.
 */
export function allergensOf(items: readonly Item[], { house }: Catalogue): string[] {
  const found = new Set<string>();
  const others = new Set<string>();
  for (const word of items.flatMap(({ allergens }) => allergens)) {
    const names = meaningOf(word)?.[house.allergens] ?? [];
    for (const name of names) found.add(name);
    if (names.length === 0) others.add(clean(word));
  }
  return [...allergenLists[house.allergens].filter((name) => found.has(name)), ...others];
}

/** Words of an item's allergens that nobody knows, each with what may be meant, for whoever wrote them. */
export function allergenDoubts(item: Item): string[] {
  return item.allergens
    .filter((word) => meaningOf(word) === null)
    .map((word) => {
      const near = allergenNear(word);
      const meant = near === null ? '' : ` Did you mean ${near}?`;
      return `${item.name}: nobody knows the allergen "${word}". It is shown as written.${meant}`;
    });
}

/** The allergen that a word nobody knows comes near to; null when it comes near to none. */
export function allergenNear(word: string): string | null {
  const near = nearestNames(word, [...meanings.keys()])[0];
  return near === undefined ? null : (meanings.get(near)?.eu[0] ?? near);
}

/**
 * What an item often holds though its line does not say so; for filters alone, which err to the safe side (a judgement: beer and
 * grain, orgeat and nuts, cream liqueur and milk, wine and sulphites; never a claim that it does).
 */
const hints: readonly (readonly [RegExp, string])[] = [
  [/\borgeat|\balmond|\bamaretto|\bnocino|\bnut\b/, 'nut'],
  [/\bcream liqueur|\birish cream|\bmilk\b|\bcream\b|\bcoconut cream/, 'milk'],
  [/\badvocaat|\beggnog|\begg\b/, 'egg'],
  [/\bbeer|\blager|\bale\b|\bstout|\bporter\b|\bweiss|\bmalt extract/, 'gluten'],
  [/\bwine|\bvermouth|\bsherry|\bport\b|\bchampagne|\bsparkling|\bfino|\bcider|\bcordial/, 'sulphite'],
  [/\bworcester/, 'fish'],
  [/\bclam/, 'mollusc'],
  [/\bcelery/, 'celery'],
];

const mayHold = memoBy(
  (item: Item) => [item],
  (item): ReadonlySet<string> => {
    const said = item.allergens.flatMap((word) => {
      const meaning = meaningOf(word);
      return meaning === null ? ['?'] : [...meaning.eu, ...meaning.us];
    });
    const words = [item.kind, ...itemNames(item)].map(foldText).join(' ');
    const hinted = hints.flatMap(([pattern, word]) =>
      pattern.test(words) ? (meaningOf(word)?.eu ?? []) : [],
    );
    return new Set([...said, ...hinted]);
  },
);

/** What a filter's word asks for, on either list; empty when it is no allergen. */
export const allergensAsked = (word: string): readonly string[] => {
  const meaning = meaningOf(word);
  return meaning === null ? [] : [...meaning.eu, ...meaning.us];
};

/** Whether any of some items holds an allergen, or may: an allergen nobody knows may be any. */
export const mayHoldAny = (items: readonly Item[], asked: readonly string[]): boolean =>
  items.some((item) => {
    const held = mayHold(item);
    return held.has('?') || asked.some((name) => held.has(name));
  });

/** Items whose line says nothing of allergens: of these a filter can know nothing. */
export const silentItems = ({ items }: Catalogue): Item[] =>
  [...items.values()].filter(({ allergens }) => allergens.length === 0);

/** What items may hold by their name or by a word nobody knows, beyond what they say, in the words of the house's list. */
export function mayContain(items: readonly Item[], catalogue: Catalogue): string[] {
  const said = new Set(allergensOf(items, catalogue));
  const may = items.flatMap((item) => [...mayHold(item)]);
  const list: readonly string[] = allergenLists[catalogue.house.allergens];
  return list.filter((name) => may.includes(name) && !said.has(name));
}
