// How full a drink makes its glass.
import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Spec } from '../catalogue/spec.ts';
import type { DrinkFigures } from './drink.ts';

/** "about 135 ml served in a coupe of 180"; with a warning where it can't hold it. Empty for a glass nobody measured. */
export function glassText(spec: Spec, figures: DrinkFigures, { house }: Catalogue): string {
  const word = [...house.glasses.keys()].find((glass) =>
    spec.glass
      .toLowerCase()
      .split(/[^a-z]+/)
      .includes(glass),
  );
  const holds = word === undefined ? undefined : house.glasses.get(word);
  if (word === undefined || holds === undefined || figures.volumeMl === 0) return '';
  const served = Math.round(figures.dilution?.finalMl ?? figures.volumeMl);
  const hasIce = spec.ice !== '' && !/^(none|no)\b/i.test(spec.ice);
  const about = figures.dilution === null ? `${served} ml` : `about ${served} ml`;
  if (served > holds) return `! ${about} is more than a ${word} of ${holds} ml holds`;
  return hasIce
    ? `${about} beside the ice in a ${word} of ${holds} ml`
    : `${about} in a ${word} of ${holds} ml`;
}
