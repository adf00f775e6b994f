import type { In } from "../units/unit.ts";
import { type Computed, invalid, isWaterTemperature, NOT_A_NUMBER, NOT_LIQUID } from "./result.ts";

/**
 * Potential of the reference electrode against the standard hydrogen electrode, mV, by °C.
 * Source: 3 M from a sensor maker's manual, 3.5 M and saturated from a table in an on-line electrode glossary, values
 * to 1 mV; other published 3 M values are 2-3 mV higher (from memory).
 */
const REFERENCES = {
  "ag-agcl-3m": [
    [5, 221],
    [10, 217],
    [15, 214],
    [20, 210],
    [25, 207],
    [30, 203],
    [35, 200],
    [40, 196],
  ],
  "ag-agcl-3.5m": [
    [15, 212],
    [20, 208],
    [25, 205],
    [30, 201],
    [35, 197],
  ],
  "ag-agcl-saturated": [
    [15, 209],
    [20, 204],
    [25, 199],
    [30, 194],
    [35, 189],
  ],
} as const satisfies Record<string, readonly (readonly [number, number])[]>;

export type ReferenceElectrode = keyof typeof REFERENCES;
export const REFERENCE_ELECTRODES = Object.keys(REFERENCES) as readonly ReferenceElectrode[];

const FORMULA = "ORP plus reference potential";

export interface RedoxPotential extends Computed<In<"mV">> {
  /** Potential of the reference at that temperature, mV. */
  readonly reference: In<"mV"> | null;
}

/** Linear between points; beyond the ends the end slope goes on. */
function interpolate(points: readonly (readonly [number, number])[], t: number): number {
  const last = points.length - 1;
  let upper = 1;
  while (upper < last && t > (points[upper] as readonly [number, number])[0]) upper += 1;
  const [t0, e0] = points[upper - 1] as readonly [number, number];
  const [t1, e1] = points[upper] as readonly [number, number];
  return e0 + ((e1 - e0) * (t - t0)) / (t1 - t0);
}

/**
 * Eh against the standard hydrogen electrode, mV, from ORP as read in mV, its reference electrode and the water in
 * °C. Inside the electrode's table ok, outside extrapolated by the end slope. For comparison only: store and chart ORP
 * as read; probes differ by 50 mV (common practice, no source). Source: tables named at `REFERENCES`; USGS National
 * Field Manual 6.5.
 */
export function ehFromOrp(orp: In<"mV">, electrode: ReferenceElectrode, t: In<"Cel">): RedoxPotential {
  const fault = !(Number.isFinite(orp) && Number.isFinite(t))
    ? NOT_A_NUMBER
    : isWaterTemperature(t)
      ? null
      : NOT_LIQUID;
  if (fault !== null) return { ...invalid(FORMULA, fault), reference: null };
  const points = REFERENCES[electrode];
  const reference = interpolate(points, t);
  const first = points[0][0];
  const last = (points.at(-1) as readonly [number, number])[0];
  const outside = t < first || t > last;
  return {
    value: (orp + reference) as In<"mV">,
    status: outside ? "extrapolated" : "ok",
    formula: FORMULA,
    note: outside ? `the electrode's table covers ${first} to ${last} °C` : null,
    reference: reference as In<"mV">,
  };
}
