import {
  CIVIL_HORIZON,
  dayLength,
  ehFromOrp,
  REFERENCE_ELECTRODES,
  type ReferenceElectrode,
  SUNRISE_HORIZON,
} from "../chemistry/index.ts";
import { clockText } from "../time/zone-clock.ts";
import { degC, millivolts } from "../units/index.ts";
import { explainRedox } from "../working/explain-water.ts";
import { step } from "../working/explanation.ts";
import { choice, inUnits, ofQuantity, text } from "./field.ts";
import { output, resultOf, type Sum } from "./sum.ts";

const redox: Sum = {
  name: "redox",
  label: "Eh from ORP",
  group: "pH and carbonate",
  about: "Redox potential relative to the standard hydrogen electrode, to compare different kinds of probe.",
  fields: [
    ofQuantity("orp", "orp", { example: 350 }),
    choice(
      "electrode",
      "Reference electrode",
      REFERENCE_ELECTRODES.map((id) => [id, id] as const),
      "ag-agcl-3m",
    ),
    ofQuantity("temperature", "temperature", { example: 25 }),
  ],
  outputs: [output("eh", "Eh", "mV", 0), output("reference", "Reference potential", "mV", 0)],
  cautions: [
    "ORP does not tell you mg/L of ozone or chlorine: there is no general relation.",
    "Probes can differ by 50 mV.",
  ],
  run(v) {
    const electrode = v.text("electrode") as ReferenceElectrode;
    const found = ehFromOrp(millivolts(v.number("orp")), electrode, degC(v.number("temperature")));
    return resultOf(
      found,
      { eh: { value: found.value }, reference: { value: found.reference } },
      explainRedox(found.reference ?? Number.NaN, electrode),
    );
  },
};

/** "05:42", of minutes after midnight UTC; times of another UTC date wrap round, as on a clock. */
function clock(minutes: number | null): string | null {
  if (minutes === null) return null;
  return `${clockText(minutes)} UTC`;
}

const light: Sum = {
  name: "day-length",
  label: "Day length",
  group: "Light",
  about:
    "Hours from sunrise to sunset at a place, to compare a light cycle with daylight at the native latitude.",
  fields: [
    inUnits("latitude", "Latitude, north positive, degrees", [["1", 3]], { example: 51.5 }),
    inUnits("longitude", "Longitude, east positive, degrees", [["1", 3]], { usual: 0 }),
    text("date", "Date", "2026-06-21", "write YYYY-MM-DD"),
    choice(
      "horizon",
      "Counted from",
      [
        ["sunrise", "sunrise to sunset"],
        ["civil", "civil dawn to civil dusk"],
      ],
      "sunrise",
    ),
  ],
  outputs: [
    output("day_length", "Day length", "h", 2),
    output("rise", "Rise", "", 0),
    output("noon", "Solar noon", "", 0),
    output("set", "Set", "", 0),
  ],
  cautions: ["Hills and weather are not included. Times are UTC, without summer time."],
  run(v) {
    const horizon = v.text("horizon") === "civil" ? CIVIL_HORIZON : SUNRISE_HORIZON;
    const found = dayLength({
      latitude: v.number("latitude"),
      longitude: v.number("longitude"),
      date: v.text("date"),
      horizon,
    });
    return resultOf(
      found,
      {
        day_length: { value: found.value },
        rise: { value: clock(found.rise) },
        noon: { value: clock(found.noon) },
        set: { value: clock(found.set) },
      },
      {
        expression: ["cos H = cos z / (cos lat cos dec) - tan lat tan dec;  day = 8 H minutes, H in degrees"],
        range: "1900 to 2100; 0.1 min below 60° of latitude, 0.5 min above",
        source: "Meeus, Astronomical Algorithms, ch. 25 and 28 (from memory)",
        steps: [step("Sun below the horizon", horizon, "°")],
        uncertainty: [],
      },
    );
  },
};

export const REDOX_SUMS: readonly Sum[] = [redox];
export const LIGHT_SUMS: readonly Sum[] = [light];
