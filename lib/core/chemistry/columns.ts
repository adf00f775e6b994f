/**
 * Equations over whole columns: `Float64Array` in and out, in the units of the single forms, for tables of thousands of rows. Columns
 * of one call have one length, else RangeError. Nothing is judged: a row whose inputs allow no number, or an input that is none, gives
 * NaN, and what lies outside a published range is computed without a mark. Sources and ranges: at the single forms.
 */

import type { In, PracticalSalinity } from "../units/unit.ts";
import { ammoniumPkNumber, fractionNumber } from "./ammonium.ts";
import { carbonateFromPhAlkalinity } from "./carbonate.ts";
import { toTotalStepNumber } from "./ph-scale.ts";
import { salinityNumber } from "./salinity.ts";
import type { Water } from "./water.ts";

function lengthOf(columns: readonly Float64Array[]): number {
  const n = columns[0]?.length ?? 0;
  const odd = columns.find((column) => column.length !== n);
  if (odd) throw new RangeError(`columns of ${n} and ${odd.length} rows: give all the same length`);
  return n;
}

/** Practical salinity: `c` mS/cm, `t` °C, `p` dbar above atmospheric. As `practicalSalinity`. Source: UNESCO 44; Hill et al. 1986. */
export function salinityColumn(c: Float64Array, t: Float64Array, p: Float64Array): Float64Array {
  const n = lengthOf([c, t, p]);
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const conductivity = c[i] as number;
    // The polynomial leaves a rounding residue of either sign where there is no conductivity at all.
    out[i] =
      conductivity > 0
        ? Math.max(salinityNumber(conductivity, t[i] as number, p[i] as number), 0)
        : conductivity === 0
          ? 0
          : Number.NaN;
  }
  return out;
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
): Float64Array {
  const n = lengthOf([tan, ph, t, s]);
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const amount = tan[i] as number;
    const pk = ammoniumPkNumber(water, t[i] as number, s[i] as number);
    out[i] = amount >= 0 ? amount * fractionNumber(pk, ph[i] as number) : Number.NaN;
  }
  return out;
}

/** pH on the total scale of pH read on NBS buffers; `t` °C, `s` practical salinity. As `convertPh`. Source: Takahashi et al. 1982. */
export function totalPhColumn(nbs: Float64Array, t: Float64Array, s: Float64Array): Float64Array {
  const n = lengthOf([nbs, t, s]);
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++)
    out[i] = (nbs[i] as number) + toTotalStepNumber("nbs", t[i] as number, s[i] as number);
  return out;
}

export interface CarbonateColumns {
  /** µmol/kg. */
  readonly carbon: Float64Array;
  /** µatm. */
  readonly pco2: Float64Array;
  readonly calcite: Float64Array;
  readonly aragonite: Float64Array;
}

/**
 * The carbonate system of pH on the total scale and alkalinity in meq/L; `t` °C, `s` practical salinity. As `carbonateFromPhAlkalinity`,
 * one kind of water for the whole column; saturations of fresh water are NaN. Source: Dickson, Sabine & Christian 2007.
 */
export function carbonateColumns(
  water: Water,
  ph: Float64Array,
  alkalinity: Float64Array,
  t: Float64Array,
  s: Float64Array,
): CarbonateColumns {
  const n = lengthOf([ph, alkalinity, t, s]);
  const column = () => new Float64Array(n).fill(Number.NaN);
  const out = { carbon: column(), pco2: column(), calcite: column(), aragonite: column() };
  for (let i = 0; i < n; i++) {
    const { value } = carbonateFromPhAlkalinity({
      ph: ph[i] as In<"[pH]">,
      phScale: "total",
      alkalinity: alkalinity[i] as In<"meq/L">,
      t: t[i] as In<"Cel">,
      s: s[i] as PracticalSalinity,
      water,
    });
    if (value === null) continue;
    out.carbon[i] = value.dissolvedInorganicCarbon;
    out.pco2[i] = value.pco2;
    out.calcite[i] = value.calciteSaturation ?? Number.NaN;
    out.aragonite[i] = value.aragoniteSaturation ?? Number.NaN;
  }
  return out;
}
