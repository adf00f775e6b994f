import { describe, expect, it } from "vitest";
import {
  canonicalUnit,
  isQuantityId,
  isUnit,
  type NumberQuantity,
  QUANTITIES,
  QUANTITY_IDS,
  quantity,
  type StateQuantity,
  stateIndex,
  stateWord,
} from "#core/units/index.ts";

const all = Object.values(QUANTITIES) as readonly (NumberQuantity | StateQuantity)[];
const numbers = all.filter((one) => one.kind === "number");
const states = all.filter((one) => one.kind === "state");

/** The unit a topic, a payload or a file may name for each quantity: this project's own contract with its gateways. */
const CONTRACT: Readonly<Record<string, string>> = {
  temperature: "Cel",
  conductivity: "mS/cm",
  specific_conductance: "uS/cm",
  salinity: "1",
  density: "kg/m3",
  specific_gravity: "1",
  ph: "[pH]",
  orp: "mV",
  redox_eh: "mV",
  dissolved_oxygen: "mg/L",
  oxygen_saturation: "%",
  total_gas_pressure: "%",
  gas_excess: "mm[Hg]",
  barometric_pressure: "hPa",
  carbon_dioxide: "mg/L",
  pco2: "uatm",
  total_ammonia: "mg/L",
  unionised_ammonia: "mg/L",
  nitrite: "mg/L",
  nitrate: "mg/L",
  phosphate: "mg/L",
  alkalinity: "meq/L",
  calcium: "mg/L",
  magnesium: "mg/L",
  strontium: "mg/L",
  potassium: "mg/L",
  hardness: "mg/L",
  iodide: "ug/L",
  copper: "mg/L",
  chlorine: "mg/L",
  total_chlorine: "mg/L",
  total_residual_oxidant: "mg/L",
  ozone: "mg/L",
  ozone_output: "%",
  sulphide: "mg/L",
  silicate: "mg/L",
  turbidity: "NTU",
  uv_transmittance: "%",
  coliform: "{MPN}/100mL",
  heterotrophic_count: "{CFU}/mL",
  aragonite_saturation: "1",
  calcite_saturation: "1",
  osmolality: "mosm/kg",
  flow: "m3/h",
  level: "mm",
  filter_pressure_difference: "kPa",
  pump_power: "kW",
  illuminance: "lx",
  par: "umol/m2/s",
  day_length: "h",
  make_up_volume: "L",
  animal_count: "1",
  respiration_rate: "/min",
};

describe("the registry of quantities", () => {
  it("has exactly the numbers of the contract, and takes their contract units unchanged", () => {
    expect(numbers.map((one) => one.id).sort()).toEqual(Object.keys(CONTRACT).sort());
    for (const [id, unit] of Object.entries(CONTRACT)) {
      expect(canonicalUnit(id, unit), `${id} in ${unit}`).toMatchObject({ factor: 1, offset: 0 });
    }
  });

  it("has exactly the states of the contract with their words in order", () => {
    expect(Object.fromEntries(states.map((one) => [one.id, one.words.join(" ")]))).toEqual({
      pump: "running stopped interlocked tripped",
      float: "normal high low",
      leak: "dry wet",
      mains: "mains generator none",
      chiller: "running idle fault off",
      ozone_generator: "running waiting cut_out off",
      uv_lamp: "on off failed expired",
      valve: "open isolated",
      heater: "on off",
      panel: "clear alarm line_broken",
    });
  });

  it("keeps each quantity under its own id, with a known unit, nested spans and a source", () => {
    for (const [key, one] of Object.entries(QUANTITIES)) expect(one.id).toBe(key);
    for (const one of numbers) {
      expect(isUnit(one.unit), one.id).toBe(true);
      const [sensorLow, sensorHigh] = one.sensor;
      const [low, high] = one.plausible;
      expect(low, one.id).toBeLessThan(high);
      expect(sensorLow, one.id).toBeLessThanOrEqual(low);
      expect(sensorHigh, one.id).toBeGreaterThanOrEqual(high);
      expect(Number.isInteger(one.decimals) && one.decimals >= 0 && one.decimals <= 4, one.id).toBe(true);
    }
    for (const one of all) {
      expect(one.label.length, one.id).toBeGreaterThan(1);
      expect(one.short.length, one.id).toBeLessThanOrEqual(8);
      expect(one.source.length, one.id).toBeGreaterThan(10);
    }
  });

  it("gives no two columns the same heading", () => {
    expect(new Set(all.map((one) => one.short)).size).toBe(all.length);
    expect(new Set(all.map((one) => one.label)).size).toBe(all.length);
  });

  it("shows a basis wherever a unit has one", () => {
    for (const one of numbers) {
      const basis = /\{([A-Z][A-Za-z0-9]*)\}\/L/.exec(one.unit)?.[1];
      if (basis === undefined) continue;
      expect(one.unitLabel.normalize("NFKC"), one.id).toContain(`as ${basis}`);
    }
  });

  it("names only words of the state as wrong, and never the first one, which is how it should be", () => {
    for (const one of states) {
      for (const word of Object.keys(one.wrong)) expect(one.words, one.id).toContain(word);
      expect(Object.keys(one.wrong), one.id).not.toContain(one.words[0]);
    }
  });

  it("stores a state word as its index and reads it back", () => {
    for (const one of states) {
      one.words.forEach((word, index) => {
        expect(stateIndex(one, word)).toBe(index);
        expect(stateWord(one, index)).toBe(word);
      });
      expect(stateIndex(one, "no such word")).toBeUndefined();
      expect(stateWord(one, one.words.length)).toBeUndefined();
      expect(stateWord(one, -1)).toBeUndefined();
      expect(stateWord(one, 0.5)).toBeUndefined();
    }
  });

  it("knows its ids and nothing else, not even what every object has", () => {
    for (const id of QUANTITY_IDS) expect(quantity(id)?.id).toBe(id);
    for (const id of ["", "Temperature", "toString", "__proto__", "constructor"]) {
      expect(isQuantityId(id)).toBe(false);
      expect(quantity(id)).toBeUndefined();
    }
  });
});
