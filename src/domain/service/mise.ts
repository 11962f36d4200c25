// The mise en place of tonight's book: tools, ice, glasses, garnishes and fresh things its specs call for, made from the
// specs and edited by hand. Which word of a method calls for which tool: common practice, no source.

import { specsInUse } from '../catalogue/catalogue.ts';
import type { Spec } from '../catalogue/spec.ts';
import { type Measured, specLines } from '../drink/measures.ts';
import type { Books } from '../ledger/books.ts';
import { memoBy } from '../value/memo.ts';

import { foldText } from '../value/text.ts';

export type MisePart = 'tool' | 'jigger' | 'glass' | 'ice' | 'garnish' | 'fresh' | 'own';

export type MiseLine = {
  readonly part: MisePart;
  readonly text: string;
  /** How many specs call for it; 0 for a line added by hand. */
  readonly specs: number;
  /** When it was ticked since the last seal; null when it was not. */
  readonly done: string | null;
  /** Something of it stands there past its date. */
  readonly late: boolean;
};

/** Words of a method and the tools they need. */
const tools: readonly (readonly [word: RegExp, tools: readonly string[]])[] = [
  [/\bshake/, ['shaker', 'strainer']],
  [/\bstir/, ['mixing glass', 'bar spoon', 'strainer']],
  [/\bmuddle/, ['muddler']],
  [/\bdouble strain|\bfine strain/, ['fine strainer']],
  [/\bswizzle/, ['swizzle stick']],
  [/\bblend/, ['blender']],
  [/\bthrow/, ['two tins', 'strainer']],
  [/\bgrate/, ['grater']],
  [/\bflame|\btorch/, ['lighter']],
];
/** Kinds of item that are squeezed, picked, separated or made for the night. */
const freshKinds: readonly string[] = [
  'juice',
  'syrup',
  'egg',
  'herb',
  'fruit',
  'dairy',
  'cream',
  'cordial',
  'batch',
];
const parts: readonly MisePart[] = ['tool', 'jigger', 'glass', 'ice', 'garnish', 'fresh', 'own'];

/** As long as an event can hold. */
export const LONGEST_LINE = 80;

type Called = { readonly part: MisePart; readonly text: string };

/** Everything one spec calls for. */
function calledFor(spec: Spec, lines: readonly Measured[]): Called[] {
  const method = spec.method.toLowerCase();
  const words = (text: string): string[] =>
    text
      .split(/\s*(?:;|,|\band\b)\s*/)
      .map((word) => word.trim().toLowerCase())
      .filter((word) => word !== '' && word !== 'none')
      .map((word) =>
        [...word].length <= LONGEST_LINE ? word : `${[...word].slice(0, LONGEST_LINE - 1).join('')}…`,
      );
  const juice = lines.some(
    ({ item }) => item.kind === 'juice' || (item.kind === 'fruit' && item.unit === 'each'),
  );
  return [
    ...tools
      .filter(([word]) => word.test(method))
      .flatMap(([, names]) => names.map((text) => ({ part: 'tool' as const, text }))),
    ...(juice ? [{ part: 'tool' as const, text: 'juicer' }] : []),
    ...(/twist|peel|zest/i.test(spec.garnish) ? [{ part: 'tool' as const, text: 'peeler' }] : []),
    ...lines
      .filter(isMeasured)
      .map(({ measure }) => ({ part: 'jigger' as const, text: `${measure.quantity} ${measure.unit}` })),
    ...(spec.glass === '' ? [] : [{ part: 'glass' as const, text: spec.glass.toLowerCase() }]),
    ...words(spec.ice).map((text) => ({ part: 'ice' as const, text: iceText(text) })),
    ...words(spec.garnish).map((text) => ({ part: 'garnish' as const, text })),
    ...lines
      .filter(({ item }) => freshKinds.includes(item.kind.toLowerCase()))
      .map(({ item }) => ({ part: 'fresh' as const, text: item.name })),
  ];
}

/** Measured by hand: longer pours go in by the eye or the glass. */
const LONGEST_JIGGER = 60_000;
const isMeasured = ({ measure, amount }: Measured): boolean =>
  ['ml', 'cl', 'oz'].includes(measure.unit) && amount <= LONGEST_JIGGER;

const iceText = (word: string): string =>
  word === 'cubes' ? 'ice cubes' : /\bice\b|\bcubes?\b/.test(word) ? word : `${word} ice`;

type Counted = Called & { readonly specs: number };
/** What all specs call for; worked out once for each state of the catalogue, because every tick asks. */
const calledByAll = memoBy(
  ({ specs, items, house }: Books) => [specs, items, house],
  (books): ReadonlyMap<string, Counted> => {
    const found = new Map<string, Counted>();
    for (const spec of specsInUse(books)) {
      const lines = specLines(spec, books);
      const once = new Map(
        calledFor(spec, lines.ok ? lines.value : []).map((one) => [foldText(one.text), one]),
      );
      for (const [key, one] of once) found.set(key, { ...one, specs: (found.get(key)?.specs ?? 0) + 1 });
    }
    return found;
  },
);

/** The list as it stands: what the specs call for, less what was left out, and what was added; with its ticks. */
export function miseLines(books: Books): MiseLine[] {
  const found = new Map(calledByAll(books));
  for (const [key, text] of books.miseEdits) {
    if (text === null) found.delete(key);
    else if (!found.has(key)) found.set(key, { part: 'own', text, specs: 0 });
  }
  const late = new Set([...books.late.keys()].map((id) => foldText(books.items.get(id)?.name ?? '')));
  return [...found]
    .map(([key, line]) => ({
      ...line,
      done: books.miseTicks.get(key) ?? null,
      late: line.part === 'fresh' && late.has(key),
    }))
    .sort(
      (a, b) =>
        parts.indexOf(a.part) - parts.indexOf(b.part) || b.specs - a.specs || order.compare(a.text, b.text),
    );
}
const order = new Intl.Collator('en', { numeric: true });
