/** The water around the moment of a sample: what a total ammonia or oxygen result is computed with. */
import * as z from "zod";
import { CALIBRATION_SCALES } from "#core/set-up/probe-basis.ts";
import { instantText } from "./api.ts";

const input = z
  .object({
    value: z.number().describe("in the registry's unit"),
    at: z.number().int().nullable().describe("UTC milliseconds; null if it is a property of the water"),
    origin: z.enum(["probe", "bench", "fresh water"]),
    phScale: z
      .enum(CALIBRATION_SCALES)
      .optional()
      .describe("for a probe's pH: its scale; the value includes the probe's own offset. Default: nbs"),
  })
  .nullable()
  .describe("null if there was no believable reading near that time");

export const benchWaterQuery = z.strictObject({
  point: z.string().min(1).max(80).optional().describe("where the sample was taken; default: the exhibit"),
  at: instantText.optional().describe("when it was taken; default: now"),
});
export type BenchWaterQuery = z.output<typeof benchWaterQuery>;

/** GET /systems/{system}/bench-water. */
export const benchWaterView = z.object({
  system: z.string(),
  point: z.string(),
  at: z.number().int().describe("the time this answer is for, UTC milliseconds"),
  water: z.enum(["fresh", "brackish", "marine"]),
  elevation: z.number().describe("elevation of the site, metres above sea level"),
  ph: input,
  temperature: input,
  salinity: input,
  pressure: input.describe("station pressure, hPa; null if there is no barometer"),
});
export type BenchWaterView = z.infer<typeof benchWaterView>;
