import {
  conductivityFromSalinity,
  conductivityFromSpecificConductance,
  freezingPoint,
  osmolality,
  practicalSalinity,
  salinityFromHydrometer,
  salinityFromRefractometer,
  seawaterDensity,
  specificConductance25,
  specificGravity,
} from "../chemistry/index.ts";
import { degC, type In, msPerCm, psu, pureNumber, usPerCm } from "../units/index.ts";
import type { CheckRow, TableSpec } from "./check.ts";

const S = "salinity_PSS78";
const T = "temperature_C";
const T90 = "temperature_C_ITS90";
const P = "pressure_dbar";
const dbarOf = (row: CheckRow) => row.number(P) as In<"dbar">;
/** Figures quoted from print carry fewer digits in their inputs, and were checked against the printed ones. */
const isQuoted = (row: CheckRow) => /^UNESCO\b|marelac\b.*manual|manual.*marelac/i.test(row.text("source"));

export const SALT_TABLES: Readonly<Record<string, TableSpec>> = {
  salinity: {
    about: "raw conductivity, temperature and pressure to practical salinity",
    inputs: ["conductivity_mS_cm", T90, P],
    compute: (row) => {
      const found = practicalSalinity(
        msPerCm(row.number("conductivity_mS_cm")),
        degC(row.number(T90)),
        dbarOf(row),
      );
      return { values: { [S]: found.value }, status: found.status };
    },
    rules: [
      { column: S, absolute: 0.0001, when: isQuoted },
      { column: S, absolute: 0.0005 },
      {
        column: `second_${S}`,
        of: S,
        absolute: 1e-8,
        when: (row) => (row.numberOrNull(`second_${S}`) ?? 2) < 2,
      },
    ],
    none: ["invalid"],
    statuses: ["ok", "extrapolated", "invalid"],
  },
  conductivity_from_salinity: {
    about: "salinity, temperature and pressure to raw conductivity",
    inputs: [S, T90, P],
    compute: (row) => ({
      values: {
        conductivity_mS_cm: conductivityFromSalinity(psu(row.number(S)), degC(row.number(T90)), dbarOf(row))
          .value,
      },
    }),
    rules: [{ column: "conductivity_mS_cm", absolute: 0.0005 }],
  },
  specific_conductance: {
    about: "linear compensation to 25 °C in both directions, and what sea salt does",
    inputs: ["raw_conductivity_mS_cm", T90, "alpha_per_C"],
    compute: (row) => {
      const [c, t] = [row.number("raw_conductivity_mS_cm"), degC(row.number(T90))];
      const alpha = row.number("alpha_per_C");
      const k25 = specificConductance25(msPerCm(c), t, alpha).value;
      const linear = row.numberOrNull("linear_specific_conductance_25C_mS_cm");
      const s = practicalSalinity(msPerCm(c), t).value;
      return {
        values: {
          linear: k25 === null ? null : k25 / 1000,
          back:
            linear === null
              ? null
              : conductivityFromSpecificConductance(usPerCm(1000 * linear), t, alpha).value,
          salinity: s,
          seaSalt: s === null ? null : conductivityFromSalinity(psu(s), degC(25)).value,
        },
      };
    },
    rules: [
      { column: "linear_specific_conductance_25C_mS_cm", of: "linear", relative: 1e-6 },
      { column: "raw_conductivity_mS_cm", of: "back", relative: 1e-6 },
      { column: S, of: "salinity", absolute: 0.0005 },
      { column: "seasalt_conductivity_at_25C_mS_cm", of: "seaSalt", absolute: 0.001 },
    ],
  },
  density: {
    about: "density at atmospheric pressure",
    inputs: [S, T90],
    compute: (row) => ({
      values: { density: seawaterDensity(psu(row.number(S)), degC(row.number(T90))).value },
    }),
    rules: [
      { column: "density_kg_m3", of: "density", absolute: 1e-4 },
      { column: "second_density_kg_m3", of: "density", absolute: 0.015 },
    ],
  },
  specific_gravity: {
    about: "specific gravity for a pair of temperatures",
    inputs: [S, "sample_temperature_C", "reference_water_temperature_C"],
    compute: (row) => ({
      values: {
        specific_gravity: specificGravity(
          psu(row.number(S)),
          degC(row.number("sample_temperature_C")),
          degC(row.number("reference_water_temperature_C")),
        ).value,
      },
    }),
    rules: [{ column: "specific_gravity", absolute: 1e-7 }],
  },
  hydrometer: {
    about: "glass hydrometer reading to salinity",
    inputs: [
      "hydrometer_reading",
      "water_temperature_C",
      "calibration_temperature_C",
      "reference_water_temperature_C",
      "glass_expansion_per_C",
    ],
    compute: (row) => ({
      values: {
        [S]: salinityFromHydrometer({
          reading: pureNumber(row.number("hydrometer_reading")),
          t: degC(row.number("water_temperature_C")),
          tCal: degC(row.number("calibration_temperature_C")),
          tRef: degC(row.number("reference_water_temperature_C")),
          glassExpansion: row.number("glass_expansion_per_C"),
        }).value,
      },
    }),
    rules: [{ column: S, absolute: 0.001 }],
    none: ["below_fresh_water", "invalid"],
  },
  refractometer: {
    about: "uncompensated refractometer reading to salinity",
    inputs: ["reading_salinity_no_ATC", "sample_temperature_C", "scale_temperature_C"],
    compute: (row) => ({
      values: {
        salinity: salinityFromRefractometer({
          reading: pureNumber(row.number("reading_salinity_no_ATC")),
          t: degC(row.number("sample_temperature_C")),
          tCal: degC(row.number("scale_temperature_C")),
        }).value,
      },
    }),
    rules: [{ column: "salinity_g_kg", of: "salinity", absolute: 0.001 }],
  },
  freezing: {
    about: "freezing temperature of sea water",
    inputs: [S, P],
    compute: (row) => ({ values: { t: freezingPoint(psu(row.number(S)), dbarOf(row)).value } }),
    rules: [
      { column: "freezing_temperature_C", of: "t", absolute: 0.001 },
      { column: "second_freezing_temperature_C", of: "t", absolute: 0.006 },
    ],
  },
  osmolality: {
    about: "osmotic coefficient and osmolality",
    inputs: [S, T],
    compute: (row) => {
      const found = osmolality(psu(row.number(S)), degC(row.number(T)));
      return { values: { osmotic_coefficient: found.osmoticCoefficient, osmolality_mOsm_kg: found.value } };
    },
    rules: [
      { column: "osmotic_coefficient", relative: 0.005 },
      { column: "osmolality_mOsm_kg", relative: 0.005 },
    ],
  },
};
