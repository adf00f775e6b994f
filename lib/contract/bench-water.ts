/** The water around the moment of a sample: what a total ammonia or oxygen result is computed with. */
import * as z from "zod";
import { CALIBRATION_SCALES } from "#core/set-up/probe-basis.ts";
import { instantText } from "./api.ts";

const input = z
  .object({
    value: z.number().describe("in the registry's unit"),
    at: z.number().int().nullable().describe("UTC milliseconds; null where it is a property of the water"),
    origin: z.enum(["probe", "bench", "fresh water"]),
    phScale: z
      .enum(CALIBRATION_SCALES)
      .optional()
      .describe("of a probe's pH: its scale; the probe's own offset is in the value. Left out: nbs"),
  })
  .nullable()
  .describe("null where nothing believable was read near that moment");

export const benchWaterQuery = z.strictObject({
  point: z
    .string()
    .min(1)
    .max(80)
    .optional()
    .describe("where the sample was taken; the exhibit where left out"),
  at: instantText.optional().describe("when it was taken; now where it is left out"),
});
export type BenchWaterQuery = z.output<typeof benchWaterQuery>;

/** GET /systems/{system}/bench-water. */
export const benchWaterView = z.object({
  system: z.string(),
  point: z.string(),
  at: z.number().int().describe("the moment spoken of, UTC milliseconds"),
  water: z.enum(["fresh", "brackish", "marine"]),
  elevation: z.number().describe("of the site, metres above sea level"),
  ph: input,
  temperature: input,
  salinity: input,
  pressure: input.describe("station pressure, hPa; null where there is no barometer"),
});
export type BenchWaterView = z.infer<typeof benchWaterView>;
