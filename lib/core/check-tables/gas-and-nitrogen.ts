import { relativeUncertaintyNumber } from "../chemistry/ammonia-uncertainty.ts";
import {
  ammoniaFraction,
  ammoniaSensitivity,
  convertPh,
  ehFromOrp,
  gasSolubility,
  oxygenSaturation,
  type PhScale,
  type ReferenceElectrode,
  seawaterDensity,
  stationPressure,
  totalGasPressure,
  unionisedAmmonia,
} from "../chemistry/index.ts";
import {
  convert,
  degC,
  hPa,
  metres,
  mgPerL,
  mgPerLAsN,
  millivolts,
  mmHg,
  phUnits,
  psu,
} from "../units/index.ts";
import { type CheckRow, CheckTableError, type TableSpec } from "./check.ts";
import { tableUnit } from "./table-unit.ts";

const S = "salinity_PSS78";
const T = "temperature_C";
const water = (row: CheckRow) => ({ t: degC(row.number(T)), s: psu(row.number(S)) });
const isPublished = (row: CheckRow) => row.text("status") === "published_table";
const isFresh = (row: CheckRow) => row.number(S) < 1;

function scaleOf(row: CheckRow): PhScale {
  const scale = row.text("pH_scale");
  if (scale === "nbs" || scale === "total" || scale === "sws" || scale === "free") return scale;
  throw new CheckTableError(`"${scale}" is not a pH scale: use nbs, total, sws or free`);
}

const ELECTRODES: Readonly<Record<string, ReferenceElectrode>> = {
  AgAgCl_3M: "ag-agcl-3m",
  "AgAgCl_3.5M": "ag-agcl-3.5m",
  AgAgCl_sat: "ag-agcl-saturated",
};

function electrodeOf(row: CheckRow): ReferenceElectrode {
  const known = ELECTRODES[row.text("reference_electrode")];
  if (known) return known;
  throw new CheckTableError(
    `"${row.text("reference_electrode")}" is not an electrode: use one of ${Object.keys(ELECTRODES).join(", ")}`,
  );
}

const relative = (columns: readonly string[], width: number) =>
  columns.map((column) => ({ column, relative: width }));

export const GAS_AND_NITROGEN_TABLES: Readonly<Record<string, TableSpec>> = {
  ammonia: {
    about: "fraction and mg/L of NH3 from pH, temperature, salinity and total ammonia",
    inputs: ["pH", "pH_scale", T, S, "total_ammonia", "total_ammonia_unit"],
    compute: (row) => {
      const tan = convert(
        row.number("total_ammonia"),
        tableUnit(row.text("total_ammonia_unit"), "mg_L_as_N"),
        "mg{N}/L",
      );
      const found = unionisedAmmonia({
        ...water(row),
        ph: phUnits(row.number("pH")),
        phScale: scaleOf(row),
        tan: mgPerLAsN(tan),
      });
      return {
        values: {
          nh3_fraction: found.fraction,
          nh3_as_N_mg_L: found.value,
          nh3_as_NH3_mg_L: found.asNH3,
        },
        status: found.status,
      };
    },
    rules: [
      // Printed tables rest on other pK data: fresh (Trussell 1972) nearer than sea water (Bower & Bidwell 1978).
      { column: "nh3_fraction", relative: 0.03, when: (row) => isPublished(row) && isFresh(row) },
      { column: "nh3_fraction", relative: 0.12, when: isPublished },
      ...relative(["nh3_fraction", "nh3_as_N_mg_L", "nh3_as_NH3_mg_L"], 1e-5),
    ],
    statuses: ["ok", "invalid"],
    none: ["invalid"],
  },
  ammonium_pK: {
    about: "pK of ammonium on the total scale, and NBS minus total pH",
    inputs: [S, T],
    compute: (row) => {
      const { t, s } = water(row);
      const { pk } = ammoniaFraction({ ph: phUnits(8), phScale: "total", t, s, water: "marine" });
      const nbs = convertPh(phUnits(8), "total", "nbs", s, t).value;
      return { values: { pK: pk, step: nbs === null ? null : nbs - 8 } };
    },
    rules: [
      { column: "pK_total_scale", of: "pK", absolute: 1e-6 },
      { column: "pH_NBS_minus_pH_total", of: "step", absolute: 1e-6 },
      {
        column: "second_pK_total_scale",
        of: "pK",
        absolute: 0.03,
        when: (row) => row.number(T) <= 30 && row.number(S) >= 5 && row.number(S) <= 40,
      },
      { column: "second_pK_total_scale", of: "pK", absolute: 0.041 },
    ],
  },
  ammonia_uncertainty: {
    about: "sensitivities and combined relative uncertainty of NH3",
    inputs: [
      "pH_total",
      T,
      S,
      "total_ammonia_mg_L_N",
      "u_pH",
      "u_temperature_C",
      "u_salinity",
      "u_rel_total_ammonia",
    ],
    compute: (row) => {
      const { t, s } = water(row);
      const ph = phUnits(row.number("pH_total"));
      const { value: fraction, pk } = ammoniaFraction({ ph, phScale: "total", t, s, water: "marine" });
      if (fraction === null || pk === null) return { values: {} };
      const sensitivity = ammoniaSensitivity("marine", pk, fraction, t, s);
      const [uPh, uT, uS, uTan] = ["u_pH", "u_temperature_C", "u_salinity", "u_rel_total_ammonia"].map((u) =>
        row.number(u),
      ) as [number, number, number, number];
      return {
        values: {
          nh3_as_N_mg_L: fraction * row.number("total_ammonia_mg_L_N"),
          dln_nh3_dpH: sensitivity.ph,
          dln_nh3_dt_per_C: sensitivity.t,
          dln_nh3_dS: sensitivity.s,
          u_rel_nh3: relativeUncertaintyNumber("marine", pk, fraction, t, s, uPh, uT, uS, uTan),
        },
      };
    },
    rules: [
      { column: "nh3_as_N_mg_L", relative: 1e-5 },
      ...relative(["dln_nh3_dpH", "dln_nh3_dt_per_C", "dln_nh3_dS", "u_rel_nh3"], 1e-4),
      { column: "second_u_rel_nh3", of: "u_rel_nh3", relative: 0.01 },
    ],
  },
  oxygen_saturation: {
    about: "oxygen at 100 % saturation",
    inputs: [T, S, "station_pressure_kPa"],
    compute: (row) => {
      const { t, s } = water(row);
      const found = oxygenSaturation(t, s, hPa(convert(row.number("station_pressure_kPa"), "kPa", "hPa")));
      return { values: { saturation: found.value }, status: found.status };
    },
    rules: [
      { column: "oxygen_saturation_mg_L", of: "saturation", absolute: 0.002 },
      { column: "second_oxygen_saturation_mg_L", of: "saturation", absolute: 0.005 },
    ],
    statuses: ["ok", "extrapolated", "invalid"],
    none: ["invalid"],
  },
  gas_solubility: {
    about: "nitrogen, argon and oxygen in equilibrium with moist air at one atmosphere",
    inputs: [T, S],
    compute: (row) => {
      const { t, s } = water(row);
      const density = seawaterDensity(s, t).value;
      const full = oxygenSaturation(t, s, hPa(1013.25)).value;
      return {
        values: {
          N2: gasSolubility("N2", t, s).value,
          Ar: gasSolubility("Ar", t, s).value,
          O2: gasSolubility("O2", t, s).value,
          "O2 by Benson & Krause":
            density === null || full === null ? null : convert(full, "mg{O2}/L", "umol{O2}/kg", { density }),
        },
      };
    },
    rules: [
      { column: "N2_umol_kg", of: "N2", relative: 1e-5 },
      { column: "Ar_umol_kg", of: "Ar", relative: 1e-5 },
      { column: "O2_umol_kg", of: "O2", relative: 1e-5 },
      { column: "O2_umol_kg", of: "O2 by Benson & Krause", relative: 5e-4 },
      { column: "second_N2_umol_kg", of: "N2", relative: 0.02 },
      { column: "second_Ar_umol_kg", of: "Ar", relative: 0.007 },
      { column: "second_O2_umol_kg", of: "O2", relative: 0.005 },
    ],
  },
  gas_supersaturation: {
    about: "a gas tensiometer reading split into its gases",
    inputs: ["barometric_pressure_mmHg", "delta_P_mmHg", T, S, "dissolved_oxygen_mg_L"],
    compute: (row) => {
      const found = totalGasPressure({
        ...water(row),
        bp: hPa(convert(row.number("barometric_pressure_mmHg"), "mm[Hg]", "hPa")),
        dp: mmHg(row.number("delta_P_mmHg")),
        do: mgPerL(row.number("dissolved_oxygen_mg_L")),
      });
      return {
        values: {
          total_gas_pressure_percent: found.value,
          pO2_mmHg: found.oxygenPressure,
          pH2O_mmHg: found.vapourPressure,
          pN2_plus_Ar_mmHg: found.nitrogenArgonPressure,
          oxygen_saturation_percent: found.oxygenPercent,
          nitrogen_argon_saturation_percent: found.nitrogenArgonPercent,
        },
      };
    },
    rules: relative(
      [
        "total_gas_pressure_percent",
        "pO2_mmHg",
        "pH2O_mmHg",
        "pN2_plus_Ar_mmHg",
        "oxygen_saturation_percent",
        "nitrogen_argon_saturation_percent",
      ],
      1e-5,
    ),
  },
  station_pressure: {
    about: "sea-level pressure to station pressure",
    inputs: ["elevation_m", "sea_level_pressure_hPa"],
    compute: (row) => ({
      values: {
        station: stationPressure(hPa(row.number("sea_level_pressure_hPa")), metres(row.number("elevation_m")))
          .value,
      },
    }),
    rules: [
      // A printed table goes by geometric height, the formula by geopotential.
      {
        column: "station_pressure_hPa",
        of: "station",
        absolute: 0.15,
        when: (row) => /\btable\b/.test(row.text("source")),
      },
      { column: "station_pressure_hPa", of: "station", relative: 1e-5 },
    ],
  },
  orp_eh: {
    about: "ORP to Eh",
    inputs: ["orp_mV", "reference_electrode", T],
    compute: (row) => {
      const found = ehFromOrp(millivolts(row.number("orp_mV")), electrodeOf(row), degC(row.number(T)));
      return { values: { reference_potential_mV: found.reference, eh_mV: found.value } };
    },
    rules: [
      { column: "reference_potential_mV", absolute: 0.01 },
      { column: "eh_mV", absolute: 0.01 },
    ],
  },
};
