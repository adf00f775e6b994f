/** What is sent to adopt a season or load a home water series of one's own. */
import * as z from "zod";
import { watchedRampsView } from "./home-water.ts";

const words = (most: number) => z.string().trim().min(3).max(most);
const id = z.string().min(1).max(80);

export const seasonProposalQuery = z.strictObject({
  quantity: z.enum(["temperature", "day_length"]),
  species: id.optional().describe("whose native range; default: the first resident with coordinates"),
  rate: z
    .string()
    .regex(/^\d{1,3}(\.\d{1,4})?$/, "a number above 0")
    .optional()
    .describe("largest change a week, in the unit"),
  shift: z
    .string()
    .regex(/^-?\d{1,3}$/, "whole days")
    .optional()
    .describe("days by which the animals' calendar runs ahead"),
});
export type SeasonProposalQuery = z.output<typeof seasonProposalQuery>;

const setPoint = z.tuple([z.number().int().describe("UTC milliseconds"), z.number()]);

export const seasonProposalView = z.object({
  quantity: z.string(),
  unitLabel: z.string(),
  decimals: z.number(),
  rate: z.number().describe("largest change a week"),
  home: z.string().describe("what it follows, and the source for that"),
  setPoints: z.array(setPoint).describe("empty if nothing can be proposed"),
  heldByBand: z.number().describe("weeks in which the band holds it away from home water"),
  heldByRate: z.number(),
  outside: z.number().describe("weeks in which the rate keeps it outside the band"),
  watched: z.array(watchedRampsView).describe("breeding watches in which it ramps: hold it level there"),
  waits: z.string().nullable().describe("why nothing can be proposed, and what to do"),
});
export type SeasonProposalView = z.infer<typeof seasonProposalView>;

export const adoptSeasonRequest = z.strictObject({
  quantity: z.enum(["temperature", "day_length"]),
  setPoints: z.array(setPoint).min(2).max(120).describe("in order of time, linear between"),
  rate: z.number().positive().max(100).describe("largest change a week, in the unit"),
  despiteWatch: z
    .boolean()
    .optional()
    .describe("adopt it although it ramps while a birth or hatching is awaited; without this it is refused"),
  reason: words(500),
  source: words(500),
});

export const homeWaterSeriesRequest = z.strictObject({
  name: words(80),
  latitude: z.number().min(-90).max(90),
  longitude: z.number().min(-180).max(180),
  quantity: z.enum(["temperature", "salinity"]),
  months: z
    .array(z.strictObject({ value: z.number(), spread: z.number().min(0).nullable() }))
    .length(12)
    .describe("mid-month values, January first, in the quantity's unit"),
  reason: words(500),
  source: words(500),
});

const look = {
  latitude: homeWaterSeriesRequest.shape.latitude,
  longitude: homeWaterSeriesRequest.shape.longitude,
  quantity: homeWaterSeriesRequest.shape.quantity,
  unit: z
    .string()
    .trim()
    .min(1)
    .max(30)
    .optional()
    .describe("UCUM unit of values without one of their own; default: the quantity's unit"),
  decimal: z.enum([".", ","]).optional().default("."),
  text: z
    .string()
    .max(2_000_000)
    .describe("CSV with a heading: date (ISO) or month (1 to 12), value, and where known unit and spread"),
};
/** POST /home-water-series/look: what a file would become, nothing stored. */
export const homeWaterLookRequest = z.strictObject(look);
/** POST /home-water-series/file. */
export const homeWaterFileRequest = z.strictObject({
  ...look,
  name: homeWaterSeriesRequest.shape.name,
  leaveOut: z
    .boolean()
    .optional()
    .describe("load without the refused rows; otherwise a file with refused rows is refused"),
  reason: words(500),
  source: words(500),
});

const ownMonth = z.object({
  value: z.number().describe("mid-month, in the quantity's unit"),
  spread: z.number().nullable(),
  n: z.int().describe("number of values behind it"),
  years: z.array(z.int()),
});
export const homeWaterLookView = z.object({
  label: z.string(),
  unitLabel: z.string(),
  decimals: z.int(),
  read: z.int().describe("rows that were read"),
  refused: z.array(z.object({ line: z.int(), value: z.string(), says: z.string(), remedy: z.string() })),
  refusedCount: z.int(),
  ignored: z.array(z.string()).describe("columns that were not used"),
  months: z.array(ownMonth.nullable()).length(12),
  missing: z.array(z.int()).describe("months (1 to 12) without a value: with any it cannot be loaded"),
  beside: z
    .object({ months: z.array(z.number().nullable()).length(12), from: z.string() })
    .nullable()
    .describe("what is used at that place today"),
});
export type HomeWaterLookView = z.infer<typeof homeWaterLookView>;

export const homeWaterSeriesListView = z.object({
  now: z.int(),
  series: z.array(
    z.object({
      id: z.string(),
      name: z.string(),
      latitude: z.number(),
      longitude: z.number(),
      quantity: z.string(),
      label: z.string(),
      unitLabel: z.string(),
      decimals: z.int(),
      months: z.array(z.object({ value: z.number(), spread: z.number().nullable() })).length(12),
      source: z.string(),
      reason: z.string(),
      recorded: z.int(),
      recordedBy: z.string(),
      withdrawn: z.int().nullable(),
    }),
  ),
});
export type HomeWaterSeriesListView = z.infer<typeof homeWaterSeriesListView>;

/** Nothing needs to be said to withdraw; the audit trail keeps who did. */
export const withdrawRequest = z.strictObject({});

export const adoptedAnswer = z.object({ id: z.string(), received: z.number().int() });
export type AdoptedAnswer = z.infer<typeof adoptedAnswer>;
