// calc: volumes, densities, weighings and dilution, without any books.

import { newHouse } from '../../domain/catalogue/house.ts';
import { splitQuantity, unitName, unitScale } from '../../domain/catalogue/units.ts';
import { parseReading } from '../../domain/count/reading.ts';
import { dilutionRange, dilutionRatio } from '../../domain/drink/dilution.ts';
import { findItem } from '../../domain/search/find.ts';
import { containerDensity, densityWithSugar } from '../../domain/standard/density.ts';
import { discardDateOfMixture, HOLDING_DAYS } from '../../domain/standard/food-dates.ts';
import { brixByVolume, brixByWeight, gramsPerLitre } from '../../domain/standard/sugar.ts';
import { isDate } from '../../domain/value/clock-date.ts';
import { numberDoubt, parseDecimal } from '../../domain/value/number.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { divideRatio, multiplyRatio, ratioToNumber } from '../../domain/value/ratio.ts';
import { clean } from '../../domain/value/text.ts';
import {
  type Command,
  type Context,
  flagOf,
  type Outcome,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';

export const calc: Command = {
  name: 'calc',
  usage: [
    'calc volume AMOUNT --in UNIT',
    'calc weigh --abv A [--sugar G_PER_L | --brix B | --syrup S:W] [--temp C] --gross G --tare G',
    'calc weigh ITEM --gross G',
    'calc density --abv A [--sugar G_PER_L | --brix B | --syrup S:W] [--temp C]',
    'calc dilution --method shake|stir --abv A [--volume ML]',
    'calc discard --since DATE… [--use-by DATE]',
  ],
  says: 'units, density, weighing, dilution and discard dates',
  examples: ['calc volume "1.5 oz" --in ml', 'calc weigh --abv 40 --gross 927.5 --tare 480'],
  flags: [
    { name: 'in', takes: 'UNIT', says: 'ml, cl, l, oz, us-oz, imp-oz, tsp, tbsp, cup …' },
    { name: 'abv', takes: 'PERCENT', says: 'strength, % by volume' },
    { name: 'sugar', takes: 'G_PER_L', says: 'sugar, g per litre' },
    { name: 'temp', takes: 'C', says: 'temperature, −20 to 40 °C; default 20' },
    { name: 'brix', takes: 'B', says: 'sugar by weight, % (°Brix), 0 to 85' },
    { name: 'syrup', takes: 'S:W', says: 'parts of sugar to water, as 1:1 or 2:1' },
    { name: 'parts', takes: 'BY', says: 'weight or volume, for --syrup; default weight' },
    { name: 'since', takes: 'DATE', says: 'day it was opened or prepared; once a part', many: true },
    { name: 'use-by', takes: 'DATE', says: "the maker's date" },
    { name: 'gross', takes: 'G', says: 'weight with the container, g' },
    { name: 'tare', takes: 'G', says: 'weight of the empty container, g' },
    { name: 'method', takes: 'METHOD', says: 'shake or stir' },
    { name: 'volume', takes: 'ML', says: 'volume before dilution, ml; default 100' },
  ],
  run: (context): Outcome | Promise<Outcome> => {
    const [what, ...rest] = context.words;
    if (what === 'volume') return volume(context, rest.join(' '));
    if (what === 'weigh') return rest.length === 0 ? weigh(context) : weighItem(context, rest.join(' '));
    if (what === 'density') return density(context);
    if (what === 'dilution') return dilution(context);
    if (what === 'discard') return discard(context);
    return usageProblem('Say what to work out: calc volume, weigh, density, dilution or discard.');
  },
};

function answer(context: Context, result: Result<{ json: object; text: string }>): Outcome {
  if (!result.ok) return refused(result.problems);
  return context.json ? sayJson(result.value.json) : say(result.value.text);
}

const tidy = (value: number): number => Number(value.toPrecision(15));

function volume(context: Context, text: string): Outcome {
  const split = splitQuantity(text, newHouse);
  const target = unitName(flagOf(context, 'in') ?? 'ml', newHouse);
  const to = target === null ? null : unitScale(target, newHouse);
  const from = split === null ? null : unitScale(split.unit, newHouse);
  if (split === null || from === null || split.rest !== '')
    return usageProblem(`"${clean(text).slice(0, 40)}" is not an amount. Write it as "1.5 oz".`);
  if (to === null || target === null)
    return usageProblem(
      `"${clean(flagOf(context, 'in') ?? '').slice(0, 20)}" is not a unit. Use ml, cl, l, oz, imp-oz, tsp, tbsp or cup.`,
    );
  if (to.unit !== from.unit)
    return usageProblem(
      `${split.unit} and ${target} do not measure the same thing. Give two volumes, or two weights.`,
    );
  const value = tidy(ratioToNumber(divideRatio(multiplyRatio(split.quantity, from.perUnit), to.perUnit)));
  return answer(context, done({ json: { value, unit: target }, text: `${value} ${target}` }));
}

/** A number from a flag within bounds; a minus is allowed only for the temperature. */
function number(
  context: Context,
  name: string,
  low: number,
  high: number,
  fallback?: number,
): Result<number> {
  const text = flagOf(context, name);
  if (text === undefined) {
    return fallback === undefined
      ? refuse('usage', `--${name} is needed. Give a number from ${low} to ${high}.`, 64)
      : done(fallback);
  }
  const negative = text.startsWith('-') || text.startsWith('−');
  const size = parseDecimal(negative ? text.slice(1) : text, high);
  const value = size === null ? Number.NaN : ratioToNumber(size) * (negative ? -1 : 1);
  if (value >= low && value <= high) return done(value);
  return refuse(
    'out-of-range',
    numberDoubt(text) ??
      `--${name} "${clean(text).slice(0, 20)}" is outside ${low} to ${high}. Give a number in that range.`,
  );
}

/** Sugar in g per litre from --sugar, --brix or --syrup; one of them at most. */
function sugarOf(context: Context): Result<number> {
  const given = ['sugar', 'brix', 'syrup'].filter((name) => flagOf(context, name) !== undefined);
  if (given.length > 1)
    return refuse('usage', `--${given.join(' and --')} say the same thing. Give one of them.`, 64);
  if (given[0] === 'brix') {
    const brix = number(context, 'brix', 0, 85);
    return brix.ok ? done(gramsPerLitre(brix.value)) : brix;
  }
  if (given[0] !== 'syrup') return number(context, 'sugar', 0, 1224, 0);
  const parts = (flagOf(context, 'syrup') ?? '').split(':').map((part) => parseDecimal(part.trim()));
  const [sugar, water] = parts.map((part) => (part === null ? 0 : ratioToNumber(part)));
  const by = flagOf(context, 'parts') ?? 'weight';
  if (parts.length !== 2 || !sugar || !water)
    return refuse('usage', '--syrup takes parts of sugar to water. Write it as 1:1 or 2:1.', 64);
  if (by !== 'weight' && by !== 'volume')
    return refuse('usage', '--parts takes weight or volume. Give one.', 64);
  const brix = by === 'weight' ? brixByWeight(sugar, water) : brixByVolume(sugar, water);
  return brix <= 85
    ? done(gramsPerLitre(brix))
    : refuse('out-of-range', `${sugar}:${water} is more than 85 °Brix and no syrup. Give more water.`);
}

function densityOf(context: Context, celsius?: number): Result<number> {
  const sugar = sugarOf(context);
  if (!sugar.ok) return sugar;
  const abv = number(context, 'abv', 0, 100, sugar.value > 0 ? 0 : undefined);
  if (!abv.ok) return abv;
  const temp = number(context, 'temp', -20, 40, 20);
  if (!temp.ok) return temp;
  try {
    return done(densityWithSugar(abv.value, sugar.value, celsius ?? temp.value));
  } catch (error) {
    return refuse(
      'out-of-range',
      `--abv ${abv.value} with ${sugar.value.toFixed(0)} g sugar per litre: ${(error as Error).message}. Give less of one.`,
    );
  }
}

function density(context: Context): Outcome {
  const value = densityOf(context);
  if (!value.ok) return refused(value.problems);
  return answer(
    context,
    done({ json: { densityKgPerM3: tidy(value.value) }, text: `${value.value.toFixed(2)} kg/m³` }),
  );
}

/** Weight does not change with temperature, so the volume is always the one at 20 °C; --temp only checks the range. */
function weigh(context: Context): Outcome {
  const checked = densityOf(context);
  const at20 = densityOf(context, 20);
  const sugar = sugarOf(context);
  const gross = number(context, 'gross', 0, 100_000);
  const tare = number(context, 'tare', 0, 100_000);
  for (const part of [checked, at20, sugar, gross, tare]) if (!part.ok) return refused(part.problems);
  if (!at20.ok || !sugar.ok || !gross.ok || !tare.ok)
    return usageProblem('calc weigh needs --abv, --gross and --tare.');
  const net = gross.value - tare.value;
  if (net < 0)
    return refused([
      {
        code: 'below-tare',
        exit: 65,
        message: `--gross ${gross.value} is less than --tare ${tare.value}. Weigh it again.`,
      },
    ]);
  const ml = (net / at20.value) * 1000;
  const scale =
    Math.sqrt((newHouse.scaleResolutionGrams / 2) ** 2 + newHouse.scaleLinearityGrams ** 2) / Math.sqrt(3);
  const halfWidth =
    sugar.value > 0 ? Math.hypot(newHouse.densityHalfWidth, at20.value * 0.005) : newHouse.densityHalfWidth;
  const u = Math.hypot((scale / at20.value) * 1000, (ml * halfWidth) / Math.sqrt(3) / at20.value);
  const json = {
    volumeMl: tidy(ml),
    uncertaintyMl: Number((2 * u).toPrecision(3)),
    densityKgPerM3: tidy(at20.value),
  };
  return answer(
    context,
    done({
      json,
      text: `${ml.toFixed(1)} ml at 20 °C, ±${(2 * u).toFixed(1)} (k=2), at ${at20.value.toFixed(2)} kg/m³ (${flagOf(context, 'abv') ?? ''} % and ${Number(sugar.value.toFixed(1))} g sugar per litre; a count goes by the item's own card: calc weigh ITEM)`,
    }),
  );
}

/** The weight of an item's own container, as a count of it would have it: one answer for one weight. */
function weighItem(context: Context, name: string): Promise<Outcome> {
  return withStore(context, (store) => {
    const { house, ...books } = store.books();
    const item = findItem({ house, ...books }, name);
    if (!item.ok) return refused(item.problems);
    const gross = number(context, 'gross', 0, 100_000);
    if (!gross.ok) return refused(gross.problems);
    const reading = parseReading(`${gross.value}g`, item.value, house);
    if (!reading.ok) return refused(reading.problems);
    const { amount, deviation, densityDeviation, assumed } = reading.value;
    const u = (2 * Math.hypot(deviation, densityDeviation)) / 1000;
    const { density } = containerDensity(item.value, house);
    const json = {
      item: item.value.id,
      volumeMl: amount / 1000,
      uncertaintyMl: Number(u.toPrecision(3)),
      densityKgPerM3: tidy(density),
    };
    const as = assumed === null ? 'by its own card' : `as ${assumed}, assumed: its card does not say`;
    return answer(
      context,
      done({
        json,
        text: `${(amount / 1000).toFixed(1)} ml at 20 °C, ±${u.toFixed(1)} (k=2), at ${density.toFixed(2)} kg/m³, ${as}`,
      }),
    );
  });
}

/** A mixture names every part by its own --since; the earliest date counts. */
function discard(context: Context): Outcome {
  const since = context.flags.get('since') ?? [];
  const useBy = flagOf(context, 'use-by');
  if (since.length === 0 || !since.every(isDate) || (useBy !== undefined && !isDate(useBy))) {
    return usageProblem(
      '--since takes a date, once for each part of a mixture, and --use-by too. Write them as 2026-11-20.',
    );
  }
  const last = discardDateOfMixture(
    since.map((date) => ({ since: date, ...(useBy === undefined ? {} : { useBy }) })),
  );
  const text = `discard by the end of ${last}: ${HOLDING_DAYS} days with the first one counted (FDA Food Code 2022, 3-501.17); local rules decide`;
  return answer(context, done({ json: { discardBy: last }, text }));
}

function dilution(context: Context): Outcome {
  const method = flagOf(context, 'method');
  if (method !== 'shake' && method !== 'stir') return usageProblem('--method takes shake or stir. Give one.');
  const abv = number(context, 'abv', dilutionRange.low * 100, dilutionRange.high * 100);
  const before = number(context, 'volume', 1, 100_000, 100);
  if (!abv.ok) return refused(abv.problems);
  if (!before.ok) return refused(before.problems);
  const ratioAdded = dilutionRatio(method, abv.value / 100);
  const json = {
    addedMl: tidy(before.value * ratioAdded),
    finalMl: tidy(before.value * (1 + ratioAdded)),
    finalAbvPercent: tidy(abv.value / (1 + ratioAdded)),
  };
  const spread = Math.round(before.value * (method === 'shake' ? 0.03 : 0.08));
  return answer(
    context,
    done({
      json,
      text: `${json.addedMl.toFixed(1)} ml water ±${spread}, ${json.finalMl.toFixed(1)} ml in the glass, ${json.finalAbvPercent.toFixed(2)} %`,
    }),
  );
}
