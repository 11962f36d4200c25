// A spec card with its figures, as text and as JSON.

import type { MeasureUnit } from '../../domain/catalogue/house.ts';
import { isPrepCard, type Spec } from '../../domain/catalogue/spec.ts';
import type { DrinkFigures } from '../../domain/drink/drink.ts';
import { measureName, measureText } from '../../domain/drink/measure-text.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { madeLines } from '../../domain/prep/words.ts';
import { exactText, toUnits } from '../../domain/value/amount.ts';
import { formatMoney } from '../../domain/value/money.ts';
import { clean } from '../../domain/value/text.ts';

const round = (value: number, decimals: number): number =>
  Math.round(value * 10 ** decimals) / 10 ** decimals;

export function specJson(spec: Spec, figures: DrinkFigures, left: number, times: number) {
  const { dilution } = figures;
  return {
    spec: spec.id,
    name: spec.name,
    family: spec.family,
    measures: figures.lines.map(({ measure, item, amount }) => ({
      item: item.id,
      amount: times === 1 ? measure.quantity : exactText(amount * times),
      unit: times === 1 ? measure.unit : item.unit,
      ml: item.unit === 'ml' ? toUnits(amount * times) : null,
    })),
    volumeMl: round(figures.volumeMl * times, 3),
    ethanolMl: round(figures.ethanolMl * times, 3),
    abvPercent: figures.abvPercent === null ? null : round(figures.abvPercent, 2),
    dilution:
      dilution === null
        ? null
        : {
            method: dilution.method,
            addedMl: round(dilution.addedMl * times, 1),
            finalMl: round(dilution.finalMl * times, 1),
            finalAbvPercent: round(dilution.finalAbvPercent, 2),
            addedUncertaintyMl: round(dilution.addedUncertaintyMl * times, 1),
          },
    sugarGrams: round(figures.sugarGrams * times, 2),
    acidGrams: round(figures.acidGrams * times, 2),
    acidUncertaintyGrams: round(figures.acidUncertaintyGrams * times, 2),
    assumedNoAlcohol: figures.unknownStrength,
    assumedNoSugar: figures.unknownSugar,
    standardDrinks: {
      us: round(figures.standardDrinks.us * times, 3),
      uk: round(figures.standardDrinks.uk * times, 3),
      au: round(figures.standardDrinks.au * times, 3),
    },
    costMinor: figures.costMinor === null ? null : figures.costMinor * times,
    priceMinor: figures.priceMinor === null ? null : figures.priceMinor * times,
    pourCostPercent: figures.pourCostPercent,
    allergens: figures.allergens,
    cautions: figures.cautions,
    left,
    ...(spec.makes === undefined
      ? {}
      : { makes: { item: spec.makes.item, amount: toUnits(spec.makes.amount) }, keeps: spec.keeps ?? null }),
  };
}

export function cardText(
  spec: Spec,
  figures: DrinkFigures,
  books: Books,
  shown: { readonly times: number; readonly unit: MeasureUnit; readonly left: number },
): string {
  const { currency } = books.house;
  const { times } = shown;
  const lines = [`${spec.name}${times > 1 ? ` × ${times}` : ''}`];
  for (const line of figures.lines) {
    const note = line.measure.note === undefined ? '' : `, ${line.measure.note}`;
    lines.push(
      `  ${measureText(line, books, shown.unit, times).padEnd(12)} ${measureName(line, books).toLowerCase()}${note}`,
    );
  }
  const add = (name: string, value: string): void => {
    if (value !== '') lines.push(`${name.padEnd(13)}${value}`);
  };
  add('method', spec.method);
  if (isPrepCard(spec)) {
    for (const text of madeLines(books, spec)) lines.push(text);
    add(
      'allergens',
      figures.allergens.length === 0 ? 'none noted; ask the label' : figures.allergens.join(', '),
    );
    for (const caution of figures.cautions) add('caution', caution);
    add('left', `can be made ${shown.left} ${shown.left === 1 ? 'time' : 'times'}`);
    return lines.map((line) => clean(line)).join('\n');
  }
  add(
    'glass',
    [spec.glass, spec.ice === '' ? '' : `ice: ${spec.ice}`].filter((word) => word !== '').join(', '),
  );
  add('garnish', spec.garnish);
  add('tags', spec.tags.join(', '));
  add('volume', volumeText(figures, times));
  add('strength', strengthText(figures));
  const { us, uk, au } = figures.standardDrinks;
  add(
    'standard',
    `${(us * times).toFixed(2)} US drinks, ${(uk * times).toFixed(2)} UK units, ${(au * times).toFixed(2)} AU drinks`,
  );
  const grams = (value: number, decimals: number): number => round(value * times, decimals);
  add(
    'sugar, acid',
    `${grams(figures.sugarGrams, 1)} g sugar, ${grams(figures.acidGrams, 2)} g acid ±${grams(figures.acidUncertaintyGrams, 2)}`,
  );
  const unknown = (names: readonly string[], what: string): void => {
    if (names.length > 0) add('assumed', `no ${what} in ${names.join(', ')}: their cards do not say`);
  };
  unknown(figures.unknownStrength, 'alcohol');
  unknown(figures.unknownSugar, 'sugar');
  if (figures.costMinor !== null)
    add('cost', `${formatMoney(figures.costMinor * times, currency)} ${currency}`);
  if (figures.priceMinor !== null)
    add('price', `${formatMoney(figures.priceMinor * times, currency)} ${currency}`);
  if (figures.pourCostPercent !== null) add('pour cost', `${figures.pourCostPercent.toFixed(2)} %`);
  add(
    'allergens',
    figures.allergens.length === 0 ? 'none noted; ask the label' : figures.allergens.join(', '),
  );
  for (const caution of figures.cautions) add('caution', caution);
  add('left', `${shown.left} drinks`);
  return lines.map((line) => clean(line)).join('\n');
}

function volumeText(figures: DrinkFigures, times: number): string {
  const { dilution } = figures;
  const before = `${round(figures.volumeMl * times, 1)} ml`;
  if (dilution === null) return before;
  return `${before}, about ${Math.round(dilution.finalMl * times)} ml ±${Math.round(dilution.addedUncertaintyMl * times)} with water from the ice`;
}

function strengthText(figures: DrinkFigures): string {
  if (figures.abvPercent === null) return '';
  if (figures.abvPercent === 0 && figures.unknownStrength.length > 0) return 'not known';
  const before = `${figures.abvPercent.toFixed(1)} %`;
  if (figures.dilution === null) return before;
  const { finalAbvPercent, finalMl, addedUncertaintyMl } = figures.dilution;
  // The ethanol is known, the water is not: the strength is off by the same share as the volume.
  const spread = (finalAbvPercent * addedUncertaintyMl) / finalMl;
  return `${before}, about ${finalAbvPercent.toFixed(1)} % ±${spread.toFixed(1)} served`;
}
