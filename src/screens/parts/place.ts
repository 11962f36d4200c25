// Where something happened, in a house of several stations.
import { cut } from './line.ts';

/** A station's name may be forty characters long; what it did is what one reads for. */
const PLACE_WIDTH = 14;

/** "@upstairs " before what another station did, nothing before one's own. */
export const placeText = (house: { readonly station: string } | null, station: string): string =>
  house === null || station === house.station ? '' : `@${cut(station, PLACE_WIDTH)} `;
