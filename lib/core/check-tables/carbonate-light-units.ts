import {
  type CarbonateConstants,
  carbonateConstants,
  constantSetFor,
  fugacityFactorNumber,
  lnK0Number,
  lnKbNumber,
  lnKwNumber,
  log10AragoniteNumber,
  log10CalciteNumber,
} from "../chemistry/carbonate-constants.ts";
import {
  type CarbonateConstantSet,
  type CarbonateResult,
  CIVIL_HORIZON,
  carbonateFromAlkalinityCarbon,
  carbonateFromAlkalinityPco2,
  carbonateFromPhAlkalinity,
  carbonateFromPhCarbon,
  convertPh,
  dayLength,
  type PhScale,
  seawaterDensity,
} from "../chemistry/index.ts";
import { lnKfNumber, lnKsNumber } from "../chemistry/ph-scale.ts";
import { convert, degC, meqPerL, microatm, phUnits, psu, umolCarbonPerKg } from "../units/index.ts";
import { type CheckRow, CheckTableError, type Computed, type TableSpec } from "./check.ts";
import { tableUnit } from "./table-unit.ts";

const S = "salinity_PSS78";
const T = "temperature_C";

function setOf(row: CheckRow): CarbonateConstantSet {
  const set = row.text("constants");
  if (set === "lueker" || set === "waters" || set === "fresh") return set;
  throw new CheckTableError(`"${set}" is not a set of constants: use lueker, waters or fresh`);
}

const water = (row: CheckRow) => ({
  t: degC(row.number(T)),
  s: psu(row.number(S)),
  constants: setOf(row),
});

/** A table's µmol per kg as the meq per litre that the equations take. */
function meqOf(row: CheckRow, perKg: number) {
  const density = seawaterDensity(psu(row.number(S)), degC(row.number(T))).value;
  if (density === null) throw new CheckTableError("the density of this water cannot be computed");
  return meqPerL(convert(perKg, "ueq/kg", "meq/L", { density }));
}

const OMEGA = { omega_calcite: "calciteSaturation", omega_aragonite: "aragoniteSaturation" } as const;

function carbonateValues({ value, status }: CarbonateResult): Computed {
  if (value === null) return { values: {}, status };
  return {
    status,
    values: {
      pH_total: value.phTotal,
      total_alkalinity_umol_kg: value.alkalinityPerKg,
      DIC_umol_kg: value.dissolvedInorganicCarbon,
      CO2_umol_kg: value.co2,
      HCO3_umol_kg: value.bicarbonate,
      CO3_umol_kg: value.carbonate,
      fCO2_uatm: value.fco2,
      pCO2_uatm: value.pco2,
      omega_calcite: value[OMEGA.omega_calcite],
      omega_aragonite: value[OMEGA.omega_aragonite],
    },
  };
}

const relative = (columns: readonly string[]) => columns.map((column) => ({ column, relative: 2e-5 }));
/** R seacarb converts pH scales slightly otherwise. */
const seacarb = ["DIC_umol_kg", "pCO2_uatm", "omega_aragonite"].flatMap((column) => [
  {
    column: `second_${column}`,
    of: column,
    relative: 5e-4,
    when: (row: CheckRow) => row.text("constants") === "lueker",
  },
  {
    column: `second_${column}`,
    of: column,
    relative: 6e-3,
    when: (row: CheckRow) => row.text("constants") === "waters",
  },
]);

function solvePair(row: CheckRow): CarbonateResult {
  const [first, second] = [row.number("first_value"), row.number("second_value")];
  const common = water(row);
  switch (row.text("pair")) {
    case "TA_DIC":
      return carbonateFromAlkalinityCarbon({
        ...common,
        alkalinity: meqOf(row, first),
        dissolvedInorganicCarbon: umolCarbonPerKg(second),
      });
    case "TA_pCO2":
      return carbonateFromAlkalinityPco2({
        ...common,
        alkalinity: meqOf(row, first),
        pco2: microatm(second),
      });
    case "pH_DIC":
      return carbonateFromPhCarbon({
        ...common,
        ph: phUnits(first),
        phScale: "total",
        dissolvedInorganicCarbon: umolCarbonPerKg(second),
      });
    default:
      throw new CheckTableError(`"${row.text("pair")}" is not a pair: use TA_DIC, TA_pCO2 or pH_DIC`);
  }
}

const log10Of = (set: CarbonateConstantSet, of: keyof CarbonateConstants) => (t: number, s: number) =>
  Math.log10(carbonateConstants(set, t, s)[of]);
const CONSTANTS: Readonly<Record<string, (t: number, s: number) => number>> = {
  ln_K0: lnK0Number,
  ln_KB: lnKbNumber,
  ln_KW: lnKwNumber,
  ln_KS: lnKsNumber,
  ln_KF: lnKfNumber,
  log10_K1_lueker: log10Of(constantSetFor("marine"), "k1"),
  log10_K2_lueker: log10Of(constantSetFor("marine"), "k2"),
  log10_K1_waters_total: log10Of(constantSetFor("brackish"), "k1"),
  log10_K2_waters_total: log10Of(constantSetFor("brackish"), "k2"),
  log10_Ksp_calcite: log10CalciteNumber,
  log10_Ksp_aragonite: log10AragoniteNumber,
  fugacity_factor: (t) => fugacityFactorNumber(t),
};

const isPolar = (row: CheckRow) => Math.abs(row.number("latitude_deg_north")) >= 60;

export const CARBONATE_LIGHT_UNITS_TABLES: Readonly<Record<string, TableSpec>> = {
  carbonate_pH_TA: {
    about: "the carbonate system from pH on the total scale and alkalinity",
    inputs: ["pH_total", "total_alkalinity_umol_kg", S, T, "constants"],
    compute: (row) =>
      carbonateValues(
        carbonateFromPhAlkalinity({
          ...water(row),
          ph: phUnits(row.number("pH_total")),
          phScale: "total",
          alkalinity: meqOf(row, row.number("total_alkalinity_umol_kg")),
        }),
      ),
    rules: [
      ...relative([
        "DIC_umol_kg",
        "CO2_umol_kg",
        "HCO3_umol_kg",
        "CO3_umol_kg",
        "fCO2_uatm",
        "pCO2_uatm",
        "omega_calcite",
        "omega_aragonite",
      ]),
      ...seacarb,
    ],
    none: ["invalid"],
    statuses: ["invalid"],
  },
  carbonate_pairs: {
    about: "the other pairs of the carbonate system",
    inputs: ["pair", "first_value", "second_value", S, T, "constants"],
    compute: (row) => carbonateValues(solvePair(row)),
    rules: [
      { column: "pH_total", absolute: 1e-5 },
      ...relative(["total_alkalinity_umol_kg", "DIC_umol_kg", "pCO2_uatm", "CO3_umol_kg", "omega_aragonite"]),
    ],
  },
  carbonate_constants: {
    about: "equilibrium constants one by one",
    inputs: ["constant", S, T],
    compute: (row) => {
      const constant = CONSTANTS[row.text("constant")];
      if (constant === undefined)
        throw new CheckTableError(
          `"${row.text("constant")}" is not a constant: use one of ${Object.keys(CONSTANTS).join(", ")}`,
        );
      return { values: { value: constant(row.number(T), row.number(S)) } };
    },
    rules: [
      // Quoted to four decimals.
      { column: "value", absolute: 1e-4, when: (row) => /check value/i.test(row.text("source")) },
      { column: "value", absolute: 1e-6 },
    ],
  },
  ph_scale: {
    about: "pH on one scale to pH on all four",
    inputs: ["pH", "pH_scale", S, T],
    compute: (row) => {
      const from = row.text("pH_scale") as PhScale;
      const of = (to: PhScale) =>
        convertPh(phUnits(row.number("pH")), from, to, psu(row.number(S)), degC(row.number(T))).value;
      return {
        values: { pH_total: of("total"), pH_sws: of("sws"), pH_free: of("free"), pH_nbs: of("nbs") },
      };
    },
    rules: ["pH_total", "pH_sws", "pH_free", "pH_nbs"].map((column) => ({ column, absolute: 1e-6 })),
  },
  units: {
    about: "a value converted from one unit to another",
    inputs: ["value", "from_unit", "to_unit"],
    compute: (row) => {
      const [from, to] = [row.text("from_unit"), row.text("to_unit")];
      const perLitre = row.numberOrNull("density_kg_L");
      return {
        values: {
          expected_value: convert(
            row.number("value"),
            tableUnit(from, to),
            tableUnit(to, from),
            perLitre === null ? {} : { density: 1000 * perLitre },
          ),
        },
      };
    },
    rules: [{ column: "expected_value", relative: 1e-6 }],
  },
  day_length: {
    about: "solar noon, sunrise, sunset, civil twilight and day length",
    inputs: ["latitude_deg_north", "longitude_deg_east", "local_date"],
    compute: (row) => {
      const place = {
        latitude: row.number("latitude_deg_north"),
        longitude: row.number("longitude_deg_east"),
        date: row.text("local_date"),
      };
      const day = dayLength(place);
      const twilight = dayLength({ ...place, horizon: CIVIL_HORIZON });
      return {
        values: {
          solar_noon_min_from_0h_UTC: day.noon,
          sunrise_min_from_0h_UTC: day.rise,
          sunset_min_from_0h_UTC: day.set,
          day_length_min: day.value === null ? null : 60 * day.value,
          civil_dawn_min_from_0h_UTC: twilight.rise,
          civil_dusk_min_from_0h_UTC: twilight.set,
        },
        ...(day.sun === null ? {} : { status: day.sun }),
      };
    },
    rules: [
      "solar_noon_min_from_0h_UTC",
      "sunrise_min_from_0h_UTC",
      "sunset_min_from_0h_UTC",
      "day_length_min",
      "civil_dawn_min_from_0h_UTC",
      "civil_dusk_min_from_0h_UTC",
    ].flatMap((column) => [
      { column, absolute: 1.5, when: isPolar },
      { column, absolute: 1 },
    ]),
    statuses: ["normal", "never_rises", "never_sets"],
  },
};
