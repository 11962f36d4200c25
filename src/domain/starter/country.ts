// Where a house is, by its zone: the platform knows the zones of a country (IANA tz database, CLDR), ISO 4217 its currency. Only
// what is offered first follows from it; everything is asked.
import currencyOfCountry from 'country-to-currency';
import type { MeasureUnit, Ounce } from '../catalogue/house.ts';

/** Newer than the library the compiler knows. */
type WithZones = Intl.Locale & { readonly getTimeZones?: () => readonly string[] | undefined };

const canonical = (zone: string): string => {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: zone }).resolvedOptions().timeZone;
  } catch {
    return zone;
  }
};

const known = new Map<string, string | null>();

/** The country of a zone, ISO 3166-1; null for "UTC" and for zones of no country. */
export function countryOf(zone: string): string | null {
  const wanted = canonical(zone);
  const before = known.get(wanted);
  if (before !== undefined) return before;
  const found =
    Object.keys(currencyOfCountry).find((country) =>
      (new Intl.Locale(`und-${country}`) as WithZones).getTimeZones?.()?.map(canonical).includes(wanted),
    ) ?? null;
  known.set(wanted, found);
  return found;
}

const tables: Readonly<Record<string, string>> = currencyOfCountry;

/** The currency that is offered first there; euro where nobody knows the country. */
export const currencyOf = (country: string | null): string =>
  country === null ? 'EUR' : (tables[country] ?? 'EUR');

/** What spirits come in there: 750 ml in the Americas' largest markets, 700 ml by the standards of fill of the EU and the UK. */
export type Region = 'metric' | 'us';
const of750 = new Set(['US', 'CA', 'PR', 'GU', 'VI', 'AS', 'MP']);
export const regionOf = (country: string | null): Region =>
  country !== null && of750.has(country) ? 'us' : 'metric';

/** Measures in ounces are common practice there; no source. */
export const measuresOf = (country: string | null): { readonly units: MeasureUnit; readonly ounce: Ounce } =>
  regionOf(country) === 'us' && country !== 'CA'
    ? { units: 'oz', ounce: 'us' }
    : { units: 'ml', ounce: country === 'GB' || country === 'IE' ? 'imperial' : 'us' };
