// The questions a new house is asked, one a screen: each with what is offered first, and what its answer records.
import { settings } from '../../domain/catalogue/house.ts';
import { intendPersonAdded, intendSetting } from '../../domain/intent/intend-house.ts';
import { type Intent, intendEach } from '../../domain/intent/intent.ts';
import { type Books, peopleHere } from '../../domain/ledger/books.ts';
import { countryOf, currencyOf, measuresOf } from '../../domain/starter/country.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { foldText } from '../../domain/value/text.ts';
import type { Scene } from '../room.ts';

/** In this order; where it was left it goes on. */
export const steps = ['name', 'zone', 'currency', 'units', 'who', 'stock', 'cards', 'count'] as const;
export type StepName = (typeof steps)[number];

/** A setting that was answered is set; so much of a house stands already. */
const isAnswered: Readonly<Record<StepName, (books: Books) => boolean>> = {
  name: ({ settings: set }) => set.has('name'),
  zone: ({ settings: set }) => set.has('zone'),
  currency: ({ settings: set }) => set.has('currency'),
  units: ({ settings: set }) => set.has('units'),
  who: ({ people }) => people.size > 0,
  // Until something is poured nobody said that this is all.
  stock: ({ specs }) => specs.size > 0,
  cards: ({ specs }) => specs.size > 0,
  count: () => false,
};

/** The first question nobody answered. */
export const openStep = (books: Books): StepName => steps.find((step) => !isAnswered[step](books)) ?? 'count';

/** A house that pours nothing yet and never opened a shift begins with these. */
export const isBeginning = ({ specs, shift }: Books): boolean => specs.size === 0 && shift === null;

export type Option = { readonly says: string; readonly value: string };

const ounces: readonly Option[] = [
  { says: 'millilitres', value: 'ml' },
  { says: 'centilitres', value: 'cl' },
  { says: 'ounces of the USA, 29.57 ml; its pint is 473 ml', value: 'oz us' },
  { says: 'imperial ounces, 28.41 ml; the pint is 568 ml', value: 'oz imperial' },
  { says: 'ounces of 30 ml', value: 'oz 30ml' },
];

/** Asked of the platform only when somebody is: a house that stands opens its rooms without them. */
const zones = (): readonly string[] => [
  'UTC',
  ...Intl.supportedValuesOf('timeZone').filter((zone) => zone !== 'UTC'),
];
const currencies = (): readonly string[] => Intl.supportedValuesOf('currency');
let names: Intl.DisplayNames | null = null;
function currencyName(code: string): string {
  names ??= new Intl.DisplayNames('en', { type: 'currency' });
  return names.of(code) ?? '';
}

/** What is offered first stands first. */
const withFirst = (first: string, others: readonly string[]): string[] => [
  first,
  ...others.filter((one) => one !== first),
];

/** What can be chosen, narrowed by what is typed; none where the answer is words of one's own. */
export const optionsOf = memoBy(
  (books: Books, step: StepName, text: string, zone: string) => [books, step, text, zone],
  (books, step, text, zone): readonly Option[] => {
    const matches = ({ says, value }: Option): boolean =>
      foldText(`${says} ${value}`.replaceAll('_', ' ')).includes(foldText(text.trim()));
    const country = countryOf(books.settings.get('zone') ?? zone);
    if (step === 'zone')
      return withFirst(books.settings.get('zone') ?? zone, zones())
        .map((value) => ({ says: value.replaceAll('_', ' '), value }))
        .filter(matches);
    if (step === 'currency')
      return withFirst(books.settings.get('currency') ?? currencyOf(country), currencies())
        .map((value) => ({ says: `${value}  ${currencyName(value)}`, value }))
        .filter(matches);
    if (step !== 'units') return [];
    const { units, ounce } = books.settings.has('units') ? books.house : measuresOf(country);
    const first = units === 'oz' ? `oz ${ounce}` : units;
    return [...ounces].sort((a, b) => Number(b.value === first) - Number(a.value === first)).filter(matches);
  },
);

/** What stands in an empty field where the answer is words. */
export const offered = (step: StepName, { books, machine, house }: Scene): string =>
  step === 'name'
    ? (books.settings.get('name') ?? house?.name ?? settings[0]?.initial ?? '')
    : step === 'who'
      ? peopleHere(books)
          .map(({ name }) => name)
          .join(', ') || machine.user
      : '';

/** What an answer records; the chosen option where there are any, else what was typed. */
export function answerIntent(step: StepName, answer: string): Intent {
  if (step === 'who') return (books) => intendEach(books, newNames(books, answer), intendPersonAdded);
  if (step !== 'units') return (books) => intendSetting(books, step, answer);
  const [units = 'ml', ounce] = answer.split(' ');
  const pairs: readonly (readonly [string, string])[] =
    ounce === undefined
      ? [['units', units]]
      : [
          ['units', units],
          ['ounce', ounce],
        ];
  return (books) => intendEach(books, pairs, (so, [key, value]) => intendSetting(so, key, value));
}

/** Names with commas between, each once; who is there already stays. */
function newNames(books: Books, text: string): string[] {
  const names = new Map<string, string>();
  for (const name of text.split(',').map((one) => one.trim()))
    if (name !== '') names.set(foldText(name), name);
  const here = new Set(peopleHere(books).map(({ name }) => foldText(name)));
  return [...names].flatMap(([folded, name]) => (here.has(folded) ? [] : [name]));
}

export const questions: Readonly<Record<StepName, { readonly asks: string; readonly hint: string }>> = {
  name: { asks: 'What is the house called?', hint: 'type its name' },
  zone: { asks: 'Which clock does it go by?', hint: 'type to find a city' },
  currency: { asks: 'Which money?', hint: 'type to find another; once there are prices it stays' },
  units: { asks: 'What are measures written in?', hint: '↑↓ choose' },
  who: { asks: 'Who are you?', hint: 'your name; others too, with commas between' },
  stock: { asks: 'What stands behind your bar?', hint: 'type, Space or Enter ticks' },
  cards: { asks: 'What do you pour?', hint: 'type, Space or Enter ticks' },
  count: { asks: 'Count what is there?', hint: '' },
};
