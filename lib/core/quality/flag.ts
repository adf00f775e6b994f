/**
 * Quality flags of a reading: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing.
 * Source: IOOS QARTOD manuals (e.g. Real-Time Quality Control of In-situ Temperature and Salinity Data, 2016).
 */
export const FLAG = { pass: 1, notEvaluated: 2, suspect: 3, fail: 4, missing: 9 } as const;
export type Flag = (typeof FLAG)[keyof typeof FLAG];

/** Why a flag is not a plain pass; one code an idea, the words for people are in `REASON_WORDS`. */
export const REASONS = [
  "out_of_sensor_span",
  "out_of_plausible_span",
  "time_suspect",
  "clock_ahead",
  "possible_repeat",
  "conflict",
  "input_suspect",
  "input_missing",
  "without_temperature",
  "without_salinity",
  "without_ammonia",
  "without_alkalinity",
  "extrapolated",
  "silent",
  "being_checked",
  "spike",
  "flat_line",
  "in_air",
  "place_in_air",
  "not_sure",
] as const;
export type Reason = (typeof REASONS)[number];

export const REASON_WORDS: Readonly<Record<Reason, string>> = {
  out_of_sensor_span: "outside what the instrument can read",
  out_of_plausible_span: "outside what is believable for this quantity",
  time_suspect: "its timestamp is too far from the time it arrived",
  clock_ahead: "its sender’s clock ran ahead: held",
  possible_repeat: "may be a repeat: delivered again without a timestamp",
  conflict: "another value was sent for the same time",
  input_suspect: "the reading it is computed from is suspect",
  input_missing: "the reading it is computed from is missing or too old",
  without_temperature: "temperature not known",
  without_salinity: "salinity not known",
  without_ammonia: "TAN test missing or too old",
  without_alkalinity: "alkalinity test missing or too old",
  extrapolated: "computed outside the published range of its formula",
  silent: "no reading has arrived when expected",
  being_checked: "the probe was out for cleaning or calibration",
  spike: "far from the readings before it, and no other reading confirms it",
  flat_line: "unchanged to the last digit for too long: the probe is stuck",
  in_air: "reads as if the probe were out of the water",
  place_in_air: "the place it measures at is out of the water",
  not_sure: "the tester was not sure: test it again",
};

/** Marks that the accepting side knows and cannot be worked out later; stored beside the reading. */
export type ReadingMark = "possible_repeat" | "conflict" | "below" | "above";

/** True where a reading may serve as evidence about the water (pass or not evaluated). */
export const isGood = (flag: Flag): boolean => flag <= FLAG.notEvaluated;
