import { BEYOND_ANY_WATER, carbonateOutside } from "./carbonate.ts";
import {
  boronNumber,
  type CarbonateConstantSet,
  calciumNumber,
  constantSetFor,
  equivalentsPerCarbonNumber,
  fugacityFactorNumber,
  lnK0Number,
  lnKbNumber,
  lnKwSwsNumber,
  log10AragoniteNumber,
  log10CalciteNumber,
  luekerPkNumbers,
  minorAlkalinityNumber,
  watersSwsPkNumbers,
} from "./carbonate-constants.ts";
import { EXTRAPOLATED, INVALID, lengthOf, OK } from "./column-status.ts";
import { densityNumber } from "./density.ts";
import { fluorideNumber, lnKfNumber, lnKsNumber, phFault, sulphateNumber } from "./ph-scale.ts";
import { powerOfTen } from "./power-of-ten.ts";
import { waterFault } from "./result.ts";
import type { Water } from "./water.ts";

export interface CarbonateColumns {
  /** µmol/kg. */
  readonly carbon: Float64Array;
  /** µatm. */
  readonly pco2: Float64Array;
  readonly calcite: Float64Array;
  readonly aragonite: Float64Array;
  /** A row's place in `COLUMN_STATUSES`. */
  readonly status: Uint8Array;
}

/** Rows worked on together: what they need in between stays in the processor's nearest memory. */
const BLOCK = 256;

/**
 * The constants of one block of rows. Each is filled in a loop of its own: a loop that calls few equations has them put into it by the
 * compiler and allocates nothing, one that calls all of them allocates every number that passes a call.
 */
interface Constants {
  readonly k0: Float64Array;
  readonly k1: Float64Array;
  readonly k2: Float64Array;
  readonly kb: Float64Array;
  readonly kw: Float64Array;
  readonly ks: Float64Array;
  readonly kf: Float64Array;
  readonly kCalcite: Float64Array;
  readonly kAragonite: Float64Array;
  readonly fugacityFactor: Float64Array;
  readonly freeToTotal: Float64Array;
  readonly swsToTotal: Float64Array;
}

function emptyConstants(): Constants {
  const column = () => new Float64Array(BLOCK);
  return {
    k0: column(),
    k1: column(),
    k2: column(),
    kb: column(),
    kw: column(),
    ks: column(),
    kf: column(),
    kCalcite: column(),
    kAragonite: column(),
    fugacityFactor: column(),
    freeToTotal: column(),
    swsToTotal: column(),
  };
}

function fillScales({ ks, kf, freeToTotal, swsToTotal }: Constants, t: Float64Array, s: Float64Array): void {
  for (let i = 0; i < t.length; i++) {
    const celsius = t[i] as number;
    const salt = s[i] as number;
    const sulphuric = Math.exp(lnKsNumber(celsius, salt));
    const hydrofluoric = Math.exp(lnKfNumber(celsius, salt));
    const toTotal = 1 + sulphateNumber(salt) / sulphuric;
    ks[i] = sulphuric;
    kf[i] = hydrofluoric;
    freeToTotal[i] = toTotal;
    swsToTotal[i] = toTotal / (toTotal + fluorideNumber(salt) / hydrofluoric);
  }
}

function fillSolubility({ k0, fugacityFactor }: Constants, t: Float64Array, s: Float64Array): void {
  for (let i = 0; i < t.length; i++) {
    k0[i] = Math.exp(lnK0Number(t[i] as number, s[i] as number));
    fugacityFactor[i] = fugacityFactorNumber(t[i] as number);
  }
}

function fillLueker({ k1, k2 }: Constants, t: Float64Array, s: Float64Array): void {
  for (let i = 0; i < t.length; i++) {
    const [pk1, pk2] = luekerPkNumbers(t[i] as number, s[i] as number);
    k1[i] = powerOfTen(-pk1);
    k2[i] = powerOfTen(-pk2);
  }
}

function fillWaters({ k1, k2, swsToTotal }: Constants, t: Float64Array, s: Float64Array): void {
  for (let i = 0; i < t.length; i++) {
    const [pk1, pk2] = watersSwsPkNumbers(t[i] as number, s[i] as number);
    const step = Math.log10(swsToTotal[i] as number);
    k1[i] = powerOfTen(-(pk1 - step));
    k2[i] = powerOfTen(-(pk2 - step));
  }
}

function fillBorateWater({ kb, kw, swsToTotal }: Constants, t: Float64Array, s: Float64Array): void {
  for (let i = 0; i < t.length; i++) {
    kb[i] = Math.exp(lnKbNumber(t[i] as number, s[i] as number));
    kw[i] = Math.exp(lnKwSwsNumber(t[i] as number, s[i] as number)) * (swsToTotal[i] as number);
  }
}

function fillMinerals({ kCalcite, kAragonite }: Constants, t: Float64Array, s: Float64Array): void {
  for (let i = 0; i < t.length; i++) {
    kCalcite[i] = powerOfTen(log10CalciteNumber(t[i] as number, s[i] as number));
    kAragonite[i] = powerOfTen(log10AragoniteNumber(t[i] as number, s[i] as number));
  }
}

/** In fresh water the constants are those of no salt at all, while its density knows the salt there is. */
function fill(set: CarbonateConstantSet, k: Constants, t: Float64Array, s: Float64Array): void {
  const salt = set === "fresh" ? new Float64Array(s.length) : s;
  fillScales(k, t, salt);
  fillSolubility(k, t, salt);
  if (set === "lueker") fillLueker(k, t, salt);
  else fillWaters(k, t, salt);
  fillBorateWater(k, t, salt);
  if (set !== "fresh") fillMinerals(k, t, salt);
}

interface Rows {
  readonly ph: Float64Array;
  readonly alkalinity: Float64Array;
  readonly t: Float64Array;
  readonly s: Float64Array;
}

function solve(set: CarbonateConstantSet, k: Constants, rows: Rows, out: CarbonateColumns): void {
  const { ph, alkalinity, t, s } = rows;
  const hasSalt = set !== "fresh";
  for (let i = 0; i < ph.length; i++) {
    const salt = hasSalt ? (s[i] as number) : 0;
    const k1 = k.k1[i] as number;
    const k2 = k.k2[i] as number;
    const h = powerOfTen(-(ph[i] as number));
    const perKg = (alkalinity[i] as number) / (1000 * (densityNumber(s[i] as number, t[i] as number) / 1000));
    const ofCarbon =
      perKg -
      minorAlkalinityNumber(
        boronNumber(salt),
        k.kb[i] as number,
        k.kw[i] as number,
        sulphateNumber(salt),
        k.ks[i] as number,
        fluorideNumber(salt),
        k.kf[i] as number,
        k.freeToTotal[i] as number,
        h,
      );
    const carbon = ofCarbon / equivalentsPerCarbonNumber(k1, k2, h);
    const denominator = h * h + k1 * h + k1 * k2;
    const minerals = calciumNumber(salt) * ((carbon * k1 * k2) / denominator);
    out.carbon[i] = carbon * 1e6;
    out.pco2[i] =
      ((carbon * h * h) / denominator / (k.k0[i] as number) / (k.fugacityFactor[i] as number)) * 1e6;
    out.calcite[i] = hasSalt ? minerals / (k.kCalcite[i] as number) : Number.NaN;
    out.aragonite[i] = hasSalt ? minerals / (k.kAragonite[i] as number) : Number.NaN;
  }
}

/** A row without a defensible number has none, whatever came out of the equations. */
function judge(set: CarbonateConstantSet, rows: Rows, out: CarbonateColumns): void {
  for (let i = 0; i < rows.ph.length; i++) {
    const t = rows.t[i] as number;
    const s = rows.s[i] as number;
    const isDefended =
      phFault(rows.ph[i] as number) === null &&
      Math.abs(rows.alkalinity[i] as number) <= BEYOND_ANY_WATER &&
      waterFault(t, s) === null &&
      (out.carbon[i] as number) > 0;
    if (isDefended) out.status[i] = carbonateOutside(set, t, s) === null ? OK : EXTRAPOLATED;
    else {
      out.status[i] = INVALID;
      out.carbon[i] = out.pco2[i] = out.calcite[i] = out.aragonite[i] = Number.NaN;
    }
  }
}

/**
 * The carbonate system of whole columns: pH on the total scale, alkalinity in meq/L, `t` °C, `s` practical salinity. As
 * `carbonateFromPhAlkalinity` row by row, statuses too, with one kind of water for all and calcium by salinity. Columns of one length,
 * else RangeError; saturations of fresh water are NaN. Source: Dickson, Sabine & Christian 2007; constants at `carbonate-constants.ts`.
 */
export function carbonateColumns(
  water: Water,
  ph: Float64Array,
  alkalinity: Float64Array,
  t: Float64Array,
  s: Float64Array,
): CarbonateColumns {
  const n = lengthOf([ph, alkalinity, t, s]);
  const set = constantSetFor(water);
  const k = emptyConstants();
  const out = {
    carbon: new Float64Array(n),
    pco2: new Float64Array(n),
    calcite: new Float64Array(n),
    aragonite: new Float64Array(n),
    status: new Uint8Array(n),
  };
  for (let from = 0; from < n; from += BLOCK) {
    const part = (column: Float64Array) => column.subarray(from, from + BLOCK);
    const rows = { ph: part(ph), alkalinity: part(alkalinity), t: part(t), s: part(s) };
    const found = {
      carbon: part(out.carbon),
      pco2: part(out.pco2),
      calcite: part(out.calcite),
      aragonite: part(out.aragonite),
      status: out.status.subarray(from, from + BLOCK),
    };
    fill(set, k, rows.t, rows.s);
    solve(set, k, rows, found);
    judge(set, rows, found);
  }
  return out;
}
