/**
 * Equations over whole columns: `Float64Array` in and out, in the units of the single forms, for tables of thousands of rows. Columns
 * of one call have one length, else RangeError. Each row has the value and the status that the single form gives it; where that is
 * invalid, the value is NaN. The result goes into new columns, or into those of an earlier result that are given as `into`, which saves
 * their making where table follows table. Sources and ranges: at the single forms.
 */

import { ammoniaOutside, BEYOND_ANY_WATER } from "./ammonia.ts";
import { ammoniumPkNumber, fractionNumber } from "./ammonium.ts";
import { type ColumnResult, EXTRAPOLATED, INVALID, lengthOf, OK, resultColumns } from "./column-status.ts";
import { nbsOutside, phFault, toTotalStepNumber } from "./ph-scale.ts";
import { isSalinity, isWaterTemperature, waterFault } from "./result.ts";
import { HIGHEST_OF_SCALE, isScaleSpan, outsideScale, salinityNumber } from "./salinity.ts";
import type { Water } from "./water.ts";

/** Rows worked on together, so that they are still in the processor's nearest memory when they are judged. */
const BLOCK = 1024;

function fillSalinity(value: Float64Array, c: Float64Array, t: Float64Array, p: Float64Array): void {
  for (let i = 0; i < value.length; i++)
    value[i] = salinityNumber(c[i] as number, t[i] as number, p[i] as number);
}

/**
 * Judges rows of sea water as long as they are nothing else, and says how many. Whether a row lies beyond the scale's salinity is written
 * without a branch: among warm brines no processor guesses it.
 */
function judgeUsual(
  status: Uint8Array,
  value: Float64Array,
  c: Float64Array,
  t: Float64Array,
  p: Float64Array,
): number {
  let i = 0;
  for (; i < value.length; i++) {
    const s = value[i] as number;
    const isUsual = (c[i] as number) > 0 && isSalinity(s) && isScaleSpan(t[i] as number, p[i] as number);
    if (!isUsual) break;
    // OK is 0 and EXTRAPOLATED 1.
    status[i] = Number(s > HIGHEST_OF_SCALE);
  }
  return i;
}

function judgeSalinity(
  status: Uint8Array,
  value: Float64Array,
  c: Float64Array,
  t: Float64Array,
  p: Float64Array,
): void {
  for (let i = judgeUsual(status, value, c, t, p); i < value.length; i++) {
    const conductivity = c[i] as number;
    const celsius = t[i] as number;
    const pressure = p[i] as number;
    // The polynomial leaves a rounding residue of either sign where there is no conductivity at all.
    if (conductivity === 0) value[i] = 0;
    else if (conductivity > 0) value[i] = Math.max(value[i] as number, 0);
    else value[i] = Number.NaN;
    const s = value[i] as number;
    const isDefended = isSalinity(s) && isWaterTemperature(celsius) && Number.isFinite(pressure);
    if (!isDefended) value[i] = Number.NaN;
    status[i] = !isDefended ? INVALID : outsideScale(s, celsius, pressure) === null ? OK : EXTRAPOLATED;
  }
}

/** Practical salinity: `c` mS/cm, `t` °C, `p` dbar above atmospheric. As `practicalSalinity`. Source: UNESCO 44; Hill et al. 1986. */
export function salinityColumn(
  c: Float64Array,
  t: Float64Array,
  p: Float64Array,
  into?: ColumnResult,
): ColumnResult {
  const n = lengthOf([c, t, p]);
  const { value, status } = resultColumns(n, into);
  for (let from = 0; from < n; from += BLOCK) {
    const part = (column: Float64Array) => column.subarray(from, from + BLOCK);
    const [found, conductivity, celsius, pressure] = [part(value), part(c), part(t), part(p)];
    fillSalinity(found, conductivity, celsius, pressure);
    judgeSalinity(status.subarray(from, from + BLOCK), found, conductivity, celsius, pressure);
  }
  return { value, status };
}

/**
 * Un-ionised ammonia, mg/L as N: `tan` mg/L as N, `ph` on the total scale (fresh water: NBS), `t` °C, `s` practical salinity. As
 * `unionisedAmmonia`, one kind of water for the whole column. Source: Clegg & Whitfield 1995; Emerson et al. 1975.
 */
export function ammoniaColumn(
  water: Water,
  tan: Float64Array,
  ph: Float64Array,
  t: Float64Array,
  s: Float64Array,
  into?: ColumnResult,
): ColumnResult {
  const n = lengthOf([tan, ph, t, s]);
  const scale = water === "fresh" ? "nbs" : "total";
  const { value, status } = resultColumns(n, into);
  for (let i = 0; i < n; i++) {
    const amount = tan[i] as number;
    const acid = ph[i] as number;
    const celsius = t[i] as number;
    const salt = s[i] as number;
    const isDefended =
      amount >= 0 &&
      amount <= BEYOND_ANY_WATER &&
      phFault(acid) === null &&
      waterFault(celsius, salt) === null;
    value[i] = isDefended
      ? amount * fractionNumber(ammoniumPkNumber(water, celsius, salt), acid)
      : Number.NaN;
    status[i] = !isDefended
      ? INVALID
      : ammoniaOutside(water, acid, scale, celsius, salt) === null
        ? OK
        : EXTRAPOLATED;
  }
  return { value, status };
}

/** pH on the total scale of pH read on NBS buffers; `t` °C, `s` practical salinity. As `convertPh`. Source: Takahashi et al. 1982. */
export function totalPhColumn(
  nbs: Float64Array,
  t: Float64Array,
  s: Float64Array,
  into?: ColumnResult,
): ColumnResult {
  const n = lengthOf([nbs, t, s]);
  const { value, status } = resultColumns(n, into);
  for (let i = 0; i < n; i++) {
    const ph = nbs[i] as number;
    const celsius = t[i] as number;
    const salt = s[i] as number;
    const isDefended = phFault(ph) === null && waterFault(celsius, salt) === null;
    value[i] = isDefended ? ph + toTotalStepNumber("nbs", celsius, salt) : Number.NaN;
    status[i] = !isDefended ? INVALID : nbsOutside(celsius, salt) === null ? OK : EXTRAPOLATED;
  }
  return { value, status };
}
