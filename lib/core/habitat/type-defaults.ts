/**
 * Starting bands by kind of water and animals, for what no resident's profile covers. All of them are common practice without a source unless said
 * otherwise, and a curator edits them. Units are the registry's (as N for nitrogen, NTU, mg/L).
 */
import { forQuantity, type QuantityId } from "../units/quantity.ts";
import type { BandEdges } from "./band.ts";

export const STARTING_BANDS = [
  "tropical marine",
  "temperate marine",
  "coral reef",
  "soft acid fresh",
  "hard alkaline fresh",
  "temperate fresh",
  "brackish mangrove",
  "octopus",
  "jelly",
] as const;
export type StartingBands = (typeof STARTING_BANDS)[number];

type Row = readonly [
  low: number | null,
  high: number | null,
  actionLow: number | null,
  actionHigh: number | null,
];
/** Where a starting band comes from. */
export const STARTING_BAND_SOURCE = "default band for this type of system, common practice, no source";

const TEMPERATURE: Partial<Record<StartingBands, Row>> = {
  "tropical marine": [24, 27, 22, 28],
  "temperate marine": [10, 18, 8, 20],
  "coral reef": [24.5, 27, 23, 29],
  "soft acid fresh": [26, 30, 24, 32],
  "hard alkaline fresh": [24, 27, 22, 29],
  "temperate fresh": [4, 20, 2, 23],
  "brackish mangrove": [25, 29, 23, 31],
  octopus: [8, 11, 6, 13],
};
const SALINITY: Partial<Record<StartingBands, Row>> = {
  "tropical marine": [32, 35, 30, 36],
  "temperate marine": [31, 34, 29, 36],
  "coral reef": [34, 36, 33, 37],
  "brackish mangrove": [5, 20, 2, 25],
  octopus: [30, 33, 28.5, 35],
  jelly: [31, 34, 29, 36],
};
const CONDUCTANCE: Partial<Record<StartingBands, Row>> = {
  "soft acid fresh": [20, 150, 10, 300],
  "hard alkaline fresh": [450, 700, 300, 900],
  "temperate fresh": [150, 600, null, null],
};
const PH: Partial<Record<StartingBands, Row>> = {
  "tropical marine": [7.9, 8.3, 7.7, 8.4],
  "temperate marine": [7.8, 8.2, 7.6, 8.4],
  "coral reef": [8.0, 8.4, 7.8, 8.5],
  "soft acid fresh": [4.8, 6.5, 4.3, 7.0],
  "hard alkaline fresh": [8.6, 9.1, 8.3, 9.3],
  "temperate fresh": [7.0, 8.2, 6.6, 8.6],
  "brackish mangrove": [7.2, 8.1, 6.8, 8.4],
  octopus: [7.9, 8.2, 7.7, 8.3],
  jelly: [7.9, 8.2, 7.7, 8.3],
};
const NITRATE: Partial<Record<StartingBands, Row>> = {
  "tropical marine": [null, 20, null, 50],
  "temperate marine": [null, 25, null, 60],
  "coral reef": [0.2, 2, null, 10],
  "soft acid fresh": [null, 5, null, 10],
  "hard alkaline fresh": [null, 15, null, 30],
  "temperate fresh": [null, 25, null, 50],
  "brackish mangrove": [null, 25, null, 50],
  octopus: [null, 10, null, 20],
  jelly: [null, 10, null, 20],
};
const ALKALINITY: Partial<Record<StartingBands, Row>> = {
  "tropical marine": [2.2, 3.5, 1.8, 4.5],
  "temperate marine": [2.1, 3.0, 1.8, 4.0],
  "coral reef": [2.6, 3.4, 2.3, 4.0],
  "soft acid fresh": [0.05, 0.6, null, null],
  "hard alkaline fresh": [4, 6, 3.2, 7],
  "temperate fresh": [1, 4, 0.8, null],
  "brackish mangrove": [1.5, 3, 1.2, null],
  octopus: [2.2, 3.0, 1.8, null],
  jelly: [2.2, 3.0, 1.8, null],
};
/** What is not here has no usual band: a profile or a curator sets it. */
const TABLES: Partial<Record<QuantityId, Partial<Record<StartingBands, Row>>>> = {
  temperature: TEMPERATURE,
  salinity: SALINITY,
  specific_conductance: CONDUCTANCE,
  ph: PH,
  nitrate: NITRATE,
  alkalinity: ALKALINITY,
};
/** Quantities there is a starting band for. */
export const DEFAULTED_QUANTITIES: readonly QuantityId[] = Object.keys(TABLES) as QuantityId[];

/** The starting band of a quantity; null where these have none, or a system starts without. */
export function startingBand(
  of: StartingBands | null,
  quantity: string,
): { readonly edges: BandEdges; readonly source: string } | null {
  const row = of === null ? undefined : forQuantity(TABLES, quantity)?.[of];
  if (!row) return null;
  const [low, high, actionLow, actionHigh] = row;
  return {
    edges: { low, high, actionLow, actionHigh, urgentLow: null, urgentHigh: null },
    source: STARTING_BAND_SOURCE,
  };
}
