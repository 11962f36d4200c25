// Sugar in water: density and content of syrups by °Brix, by weight or by volume.
// Polynomial for sucrose in water, ICUMSA / Bubnik–Kadlec form (published, seen second-hand; two transcriptions differ in
// one digit below 1e-4 kg/m³). Checked against the CRC Handbook table "Concentrative properties: sucrose".

/** Water in kg/m³ at t °C (same source). */
function water(t: number): number {
  const top =
    999.83952 +
    16.952577 * t -
    7.9905127e-3 * t ** 2 -
    46.241757e-6 * t ** 3 +
    105.84601e-9 * t ** 4 -
    281.03006e-12 * t ** 5;
  return top / (1 + 16.887236e-3 * t);
}

/**
 * Density in kg/m³ of sucrose in water.
 * @param brix sugar by mass, % (°Brix), 0 to 85
 * @param celsius 0 to 60
 * @throws RangeError outside these ranges
 */
export function sucroseDensity(brix: number, celsius = 20): number {
  if (!(brix >= 0 && brix <= 85)) throw new RangeError('°Brix is outside 0 to 85');
  if (!(celsius >= 0 && celsius <= 60))
    throw new RangeError('temperature is outside 0 to 60 °C for sugar in water');
  const w = brix / 100;
  const t = (celsius - 20) / 100;
  return (
    water(celsius) +
    385.1761 * w +
    135.3705 * w ** 2 +
    40.9299 * w ** 3 -
    3.9643 * w ** 4 +
    13.4853 * w ** 5 -
    17.289 * w ** 6 +
    t * (-46.272 * w - 7.172 * w ** 2 + 1.1597 * w ** 3 + 5.1126 * w ** 4 + 17.5254 * w ** 5) +
    t ** 2 * (59.7712 * w + 7.2491 * w ** 2 + 12.363 * w ** 3 - 35.4791 * w ** 4) +
    t ** 3 * (-47.2207 * w - 21.6977 * w ** 2 + 27.6301 * w ** 3) +
    t ** 4 * (18.3184 * w + 12.3081 * w ** 2)
  );
}

/** Sugar in g per litre at 20 °C of a syrup of so many °Brix; °Brix is by mass, never g per 100 ml. */
export const gramsPerLitre = (brix: number): number => (brix / 100) * sucroseDensity(brix);

/** The inverse by bisection, for 0 to 1,220 g/l. @throws RangeError outside */
export function brixOfGramsPerLitre(grams: number): number {
  if (!(grams >= 0 && grams <= gramsPerLitre(85)))
    throw new RangeError('sugar is outside 0 to 1,224 g per litre');
  let [low, high] = [0, 85];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (gramsPerLitre(middle) < grams) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** °Brix of so many parts of sugar to parts of water by weight. */
export const brixByWeight = (sugarParts: number, waterParts: number): number =>
  (100 * sugarParts) / (sugarParts + waterParts);

/** Bulk density of granulated sugar, g/ml: 200 g per US cup (published, seen second-hand). ±3 °Bx is real for a 2:1 syrup. */
const SUGAR_BULK = 200 / 236.5882365;

/** °Brix of so many volumes of granulated sugar to volumes of water at 20 °C. */
export const brixByVolume = (sugarParts: number, waterParts: number): number =>
  brixByWeight(sugarParts * SUGAR_BULK, waterParts * (water(20) / 1000));
