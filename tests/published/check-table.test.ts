import { describe, expect, test } from "vitest";
import { CHECK_TABLES, CheckTableError, checkTable } from "#core/check-tables/index.ts";
import { type CheckTable, readTable } from "./held.ts";

// The tables of fixtures/check-values in the form that `npm run check-table` reads: same figures, same sources, other column names.

const WATER = { salinity: "salinity_PSS78", temperature: "temperature_C" };
const WATER_90 = { salinity: "salinity_PSS78", temperature: "temperature_C_ITS90" };
const ELECTRODES: Readonly<Record<string, string>> = {
  "ag-agcl-3m": "AgAgCl_3M",
  "ag-agcl-3.5m": "AgAgCl_3.5M",
  "ag-agcl-saturated": "AgAgCl_sat",
};
const CONSTANTS: Readonly<Record<string, string>> = {
  lnK0: "ln_K0",
  lnKb: "ln_KB",
  lnKf: "ln_KF",
  lnKs: "ln_KS",
  lnKw: "ln_KW",
  fugacityFactor: "fugacity_factor",
  log10K1Lueker: "log10_K1_lueker",
  log10K2Lueker: "log10_K2_lueker",
  log10K1Waters: "log10_K1_waters_total",
  log10K2Waters: "log10_K2_waters_total",
  log10Aragonite: "log10_Ksp_aragonite",
  log10Calcite: "log10_Ksp_calcite",
};
const PAIRS: Readonly<Record<string, string>> = {
  "alkalinity-carbon": "TA_DIC",
  "alkalinity-pco2": "TA_pCO2",
  "ph-carbon": "pH_DIC",
};

interface Form {
  /** File in fixtures/check-values. */
  readonly file: string;
  readonly columns: Readonly<Record<string, string>>;
  readonly cell?: (column: string, text: string) => string;
}

const FORMS: Readonly<Record<string, Form>> = {
  salinity: {
    file: "salinity",
    columns: {
      ...WATER_90,
      conductivity: "conductivity_mS_cm",
      pressure: "pressure_dbar",
      salinityHill: "second_salinity_PSS78",
      status: "status",
    },
  },
  conductivity_from_salinity: {
    file: "conductivity",
    columns: { ...WATER_90, pressure: "pressure_dbar", conductivity: "conductivity_mS_cm" },
  },
  specific_conductance: {
    file: "specific-conductance",
    columns: {
      ...WATER_90,
      conductivity: "raw_conductivity_mS_cm",
      alpha: "alpha_per_C",
      linear: "linear_specific_conductance_25C_mS_cm",
      seaSalt: "seasalt_conductivity_at_25C_mS_cm",
    },
  },
  density: {
    file: "density",
    columns: { ...WATER_90, density: "density_kg_m3", densityTeos10: "second_density_kg_m3" },
  },
  specific_gravity: {
    file: "specific-gravity",
    columns: {
      salinity: "salinity_PSS78",
      temperature: "sample_temperature_C",
      reference: "reference_water_temperature_C",
      specificGravity: "specific_gravity",
    },
  },
  hydrometer: {
    file: "hydrometer",
    columns: {
      reading: "hydrometer_reading",
      temperature: "water_temperature_C",
      calibration: "calibration_temperature_C",
      reference: "reference_water_temperature_C",
      expansion: "glass_expansion_per_C",
      salinity: "salinity_PSS78",
      status: "status",
    },
  },
  refractometer: {
    file: "refractometer",
    columns: {
      reading: "reading_salinity_no_ATC",
      temperature: "sample_temperature_C",
      calibration: "scale_temperature_C",
      salinity: "salinity_g_kg",
    },
  },
  freezing: {
    file: "freezing",
    columns: {
      salinity: "salinity_PSS78",
      pressure: "pressure_dbar",
      freezing: "freezing_temperature_C",
      freezingTeos10: "second_freezing_temperature_C",
    },
  },
  osmolality: {
    file: "osmolality",
    columns: { ...WATER, coefficient: "osmotic_coefficient", osmolality: "osmolality_mOsm_kg" },
  },
  ammonia: {
    file: "ammonia",
    columns: {
      ...WATER,
      ph: "pH",
      scale: "pH_scale",
      total: "total_ammonia",
      unit: "total_ammonia_unit",
      fraction: "nh3_fraction",
      asN: "nh3_as_N_mg_L",
      asNH3: "nh3_as_NH3_mg_L",
      status: "status",
    },
    cell: (column, text) => (column === "status" && text === "other_method" ? "published_table" : text),
  },
  ammonium_pK: {
    file: "ammonium-pk",
    columns: {
      ...WATER,
      pk: "pK_total_scale",
      pkYaoMillero: "second_pK_total_scale",
      nbsMinusTotal: "pH_NBS_minus_pH_total",
    },
  },
  ammonia_uncertainty: {
    file: "ammonia-uncertainty",
    columns: {
      ...WATER,
      ph: "pH_total",
      total: "total_ammonia_mg_L_N",
      uPh: "u_pH",
      uTemperature: "u_temperature_C",
      uSalinity: "u_salinity",
      uTotal: "u_rel_total_ammonia",
      asN: "nh3_as_N_mg_L",
      perPh: "dln_nh3_dpH",
      perDegree: "dln_nh3_dt_per_C",
      perSalinity: "dln_nh3_dS",
      relative: "u_rel_nh3",
      relativeMonteCarlo: "second_u_rel_nh3",
    },
  },
  oxygen_saturation: {
    file: "oxygen-saturation",
    columns: {
      ...WATER,
      pressure: "station_pressure_kPa",
      saturation: "oxygen_saturation_mg_L",
      saturationGarciaGordon: "second_oxygen_saturation_mg_L",
      status: "status",
    },
  },
  gas_solubility: {
    file: "gas-solubility",
    columns: {
      ...WATER,
      nitrogen: "N2_umol_kg",
      argon: "Ar_umol_kg",
      oxygen: "O2_umol_kg",
      nitrogenWeiss: "second_N2_umol_kg",
      argonWeiss: "second_Ar_umol_kg",
      oxygenWeiss: "second_O2_umol_kg",
    },
  },
  gas_supersaturation: {
    file: "gas-supersaturation",
    columns: {
      ...WATER,
      barometer: "barometric_pressure_mmHg",
      excess: "delta_P_mmHg",
      oxygen: "dissolved_oxygen_mg_L",
      total: "total_gas_pressure_percent",
      oxygenPressure: "pO2_mmHg",
      vapourPressure: "pH2O_mmHg",
      nitrogenArgonPressure: "pN2_plus_Ar_mmHg",
      oxygenPercent: "oxygen_saturation_percent",
      nitrogenArgonPercent: "nitrogen_argon_saturation_percent",
    },
  },
  station_pressure: {
    file: "station-pressure",
    columns: {
      elevation: "elevation_m",
      seaLevel: "sea_level_pressure_hPa",
      station: "station_pressure_hPa",
    },
  },
  orp_eh: {
    file: "orp-eh",
    columns: {
      orp: "orp_mV",
      electrode: "reference_electrode",
      temperature: "temperature_C",
      reference: "reference_potential_mV",
      eh: "eh_mV",
    },
    cell: (column, text) => (column === "electrode" ? (ELECTRODES[text] ?? text) : text),
  },
  carbonate_pH_TA: {
    file: "carbonate-ph-alkalinity",
    columns: {
      ...WATER,
      ph: "pH_total",
      alkalinity: "total_alkalinity_umol_kg",
      constants: "constants",
      carbon: "DIC_umol_kg",
      co2: "CO2_umol_kg",
      bicarbonate: "HCO3_umol_kg",
      carbonate: "CO3_umol_kg",
      fco2: "fCO2_uatm",
      pco2: "pCO2_uatm",
      calcite: "omega_calcite",
      aragonite: "omega_aragonite",
      carbonSeacarb: "second_DIC_umol_kg",
      pco2Seacarb: "second_pCO2_uatm",
      aragoniteSeacarb: "second_omega_aragonite",
      status: "status",
    },
  },
  carbonate_pairs: {
    file: "carbonate-pairs",
    columns: {
      ...WATER,
      pair: "pair",
      first: "first_value",
      second: "second_value",
      constants: "constants",
      ph: "pH_total",
      alkalinity: "total_alkalinity_umol_kg",
      carbon: "DIC_umol_kg",
      pco2: "pCO2_uatm",
      carbonate: "CO3_umol_kg",
      aragonite: "omega_aragonite",
    },
    cell: (column, text) => (column === "pair" ? (PAIRS[text] ?? text) : text),
  },
  carbonate_constants: {
    file: "carbonate-constants",
    columns: { ...WATER, constant: "constant", value: "value" },
    cell: (column, text) => (column === "constant" ? (CONSTANTS[text] ?? text) : text),
  },
  ph_scale: {
    file: "ph-scale",
    columns: {
      ...WATER,
      ph: "pH",
      scale: "pH_scale",
      total: "pH_total",
      sws: "pH_sws",
      free: "pH_free",
      nbs: "pH_nbs",
    },
  },
  units: {
    file: "units",
    columns: {
      value: "value",
      from: "from_unit",
      to: "to_unit",
      density: "density_kg_L",
      expected: "expected_value",
    },
    cell: (column, text) => (column === "density" && text !== "" ? String(Number(text) / 1000) : text),
  },
  day_length: {
    file: "day-length",
    columns: {
      latitude: "latitude_deg_north",
      longitude: "longitude_deg_east",
      date: "local_date",
      noon: "solar_noon_min_from_0h_UTC",
      rise: "sunrise_min_from_0h_UTC",
      set: "sunset_min_from_0h_UTC",
      length: "day_length_min",
      dawn: "civil_dawn_min_from_0h_UTC",
      dusk: "civil_dusk_min_from_0h_UTC",
      sun: "status",
    },
  },
};

/** A fixture's rows as cells of text under the form's headings, with the source written out. */
function inForm(table: CheckTable, { columns, cell }: Form): { header: string[]; rows: string[][] } {
  const own = Object.keys(columns);
  const written = (row: CheckTable["rows"][number], column: string) => {
    const found = row.cell(column);
    const text = found === null ? "" : String(found);
    return cell ? cell(column, text) : text;
  };
  return {
    header: [...Object.values(columns), "source"],
    rows: table.rows.map((row) => [
      ...own.map((column) => written(row, column)),
      table.sources[row.source] ?? "",
    ]),
  };
}

describe("a table of check values in the form of the command", () => {
  test("is known for every table of the fixtures, and no other", () => {
    expect(Object.keys(FORMS).sort()).toEqual(Object.keys(CHECK_TABLES).sort());
  });

  test.each(Object.entries(FORMS))(
    "%s is held, and a value moved past its tolerance is not",
    (name, form) => {
      const spec = CHECK_TABLES[name];
      if (!spec) throw new Error(`no table ${name}`);
      const { header, rows } = inForm(readTable(form.file), form);
      const report = checkTable(spec, header, rows);
      expect(report.failures).toEqual([]);
      expect(report).toMatchObject({ rows: rows.length, held: rows.length, failed: 0 });
      expect(report.values).toBeGreaterThanOrEqual(rows.length * 0.9);
      expect(report.worst).toBeLessThanOrEqual(1);

      // Every figure that is held fails when it is moved, so that none is compared in name only.
      const moved = new Set(
        spec.rules.map((rule) => rule.column).filter((column) => header.includes(column)),
      );
      for (const column of moved) {
        const at = header.indexOf(column);
        const index = rows.findIndex((cells) => {
          if ((cells[at] ?? "") === "") return false;
          const alone = checkTable(spec, header, [cells]);
          return alone.values > 0 && alone.failed === 0 && heldAlone(spec, header, cells, column);
        });
        expect(index, column).toBeGreaterThanOrEqual(0);
      }
    },
  );

  test("says the row, the input, what was expected and what was got", () => {
    const spec = CHECK_TABLES.salinity;
    if (!spec) throw new Error("no table salinity");
    const header = [
      "conductivity_mS_cm",
      "temperature_C_ITS90",
      "pressure_dbar",
      "salinity_PSS78",
      "status",
      "source",
    ];
    const report = checkTable(spec, header, [
      ["42.914", "14.996401", "0", "35.001", "ok", "gsw"],
      ["42.914", "14.996401", "0", "35", "ok", "gsw"],
      ["-1", "25", "0", "", "invalid", ""],
      ["53", "25", "0", "", "invalid", ""],
      ["x", "25", "0", "35", "ok", ""],
      ["53", "5", "0", "", "ok", ""],
    ]);
    expect(report).toMatchObject({ rows: 6, held: 2, failed: 4 });
    expect(report.failures[0]).toMatchObject({
      line: 1,
      column: "salinity_PSS78",
      expected: "35.001 ± 0.0005",
      input: "conductivity_mS_cm=42.914 temperature_C_ITS90=14.996401 pressure_dbar=0",
    });
    expect(report.failures[0]?.units).toBeCloseTo(2, 2);
    expect(report.failures.slice(1).map(({ line, expected }) => [line, expected])).toEqual([
      [4, "invalid"],
      [4, "no value"],
      [5, "a readable row"],
      [6, "ok"],
    ]);
    expect(() => checkTable(spec, ["a"], [["1"]])).toThrow(CheckTableError);
  });
});

/** True where moving this one cell by a hundredth, and at least by 5, makes the row fail on its column. */
function heldAlone(
  spec: NonNullable<(typeof CHECK_TABLES)[string]>,
  header: readonly string[],
  cells: readonly string[],
  column: string,
): boolean {
  const at = header.indexOf(column);
  const value = Number(cells[at]);
  const other = cells.map((cell, i) => (i === at ? String(value * 1.3 + (value === 0 ? 5 : 0)) : cell));
  return checkTable(spec, header, [other]).failures.some((failure) => failure.column === column);
}
