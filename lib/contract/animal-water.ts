/** The water one animal or group lived in, through every system it was in. Every number stands beside its unit; instants are UTC milliseconds. */
import * as z from "zod";
import { STAGES } from "#core/habitat/profile.ts";
import { fitView } from "./home-water.ts";

const instant = z.number().int();
const number = z.number().nullable();

export const animalWaterQuery = z.strictObject({
  year: z
    .int()
    .min(1990)
    .max(2200)
    .optional()
    .describe("default: its whole life, at most its latest ten years"),
});
export type AnimalWaterQuery = z.output<typeof animalWaterQuery>;

const read = z.object({
  good: z.number().describe("quarter hours with a good reading"),
  possible: z.number().describe("quarter hours it lived there"),
});
const spread = z.object({
  n: z.number().describe("three-hour means"),
  low: number.describe("5 %"),
  median: number,
  high: number.describe("95 %"),
});
const held = z.object({
  stage: z.enum(STAGES),
  basis: z.enum(["native", "advice"]).describe("advice is used where no native range is known"),
  range: z
    .object({ low: number, high: number })
    .nullable()
    .describe(
      "of its species at that stage, at mid-month; null over several months, or where nothing is known for the month",
    ),
  fit: fitView,
});
export type HeldView = z.infer<typeof held>;

const monthOfLife = z.object({
  year: z.number(),
  month: z.number().describe("1 to 12, site-local"),
  from: instant,
  to: instant,
  water: spread,
  read,
  held: z
    .array(held)
    .describe("one for each stage it had there in that month; empty if its profile says nothing"),
});
export type MonthOfLife = z.infer<typeof monthOfLife>;

const quantityOfVisit = z.object({
  quantity: z.string(),
  point: z.string().nullable().describe("null if nothing there measures it"),
  origin: z.string().nullable(),
  water: spread,
  read,
  held: z.array(held),
  months: z.array(monthOfLife),
});
export type QuantityOfVisit = z.infer<typeof quantityOfVisit>;

const visit = z.object({
  system: z.string(),
  systemName: z.string(),
  siteName: z.string(),
  zone: z.string(),
  from: instant,
  to: instant.nullable().describe("null while it lives there"),
  ended: z.string().nullable(),
  stays: z.array(
    z.object({ stage: z.enum(STAGES), count: z.number(), from: instant, to: instant.nullable() }),
  ),
  quantities: z.array(quantityOfVisit),
});
export type VisitView = z.infer<typeof visit>;

export const animalWaterView = z.object({
  now: instant,
  zone: z.string().describe("time zone of where it lived last"),
  animal: z.string(),
  name: z.string().nullable(),
  species: z.string(),
  speciesName: z.string(),
  population: z.string().nullable(),
  sex: z.enum(["female", "male"]).nullable(),
  year: number.describe("null: its whole life"),
  years: z.array(z.number()).describe("calendar years it lived in, earliest first"),
  from: instant,
  to: instant,
  isWhole: z
    .boolean()
    .describe("false if the caller may see only some of its systems; the others are left out"),
  livesIn: z.array(
    z.object({ system: z.string(), name: z.string(), stage: z.enum(STAGES), count: z.number() }),
  ),
  quantities: z.array(
    z.object({
      quantity: z.string(),
      label: z.string(),
      unit: z.string(),
      unitLabel: z.string(),
      decimals: z.number(),
      read: read.describe("over all of the time shown, including systems that do not measure it"),
      fits: z
        .array(z.object({ basis: z.enum(["native", "advice"]), fit: fitView }))
        .describe("counted quarter hour by quarter hour over all systems, never a mean of means"),
      unread: z
        .array(z.object({ system: z.string(), systemName: z.string(), days: z.number() }))
        .describe("where it was not measured"),
      says: z.string(),
      sources: z.array(
        z.object({
          stage: z.enum(STAGES),
          basis: z.enum(["native", "advice"]),
          place: z.string().nullable(),
          source: z.string(),
          mark: z.string(),
          confidence: z.string(),
        }),
      ),
    }),
  ),
  visits: z.array(visit).describe("earliest first; a group that was split lives in several systems at once"),
});
export type AnimalWaterView = z.infer<typeof animalWaterView>;
