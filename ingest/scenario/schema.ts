/** Shapes of the files that set a site up: what there is, what it should keep to. */
import { z } from "zod";
import { STARTING_BANDS } from "#core/habitat/index.ts";
import { POINT_ROLE_IDS } from "#core/set-up/point-role.ts";
import { SYSTEM_TYPE_IDS } from "#core/set-up/system-type.ts";
import { clock, code, moment, place, text } from "./schema-parts.ts";

const edge = z.number().nullable();
export const siteSchema = z.strictObject({
  code,
  name: text,
  zone: text,
  latitude: z.number().min(-90).max(90),
  longitude: z.number().min(-180).max(180),
  elevationM: z.number(),
  staff: z.array(text).min(1),
});

export const loopsSchema = z.array(
  z.strictObject({
    code,
    name: text,
    kind: z.enum(["chilled water", "shared water", "ozone plant", "make-up", "power circuit", "gateway"]),
    systems: z.array(code).min(1),
    valve: z.strictObject({ system: code, point: code }).optional(),
    supply: z.strictObject({ system: code, point: code }).optional(),
  }),
);

export const systemsSchema = z
  .array(
    z.strictObject({
      code,
      name: text,
      short: text,
      kind: text,
      type: z.enum(SYSTEM_TYPE_IDS),
      startingBands: z.enum(STARTING_BANDS).nullable(),
      water: z.enum(["fresh", "brackish", "marine"]),
      volumeM3: z.number().positive(),
      flowDutyM3h: z.number().positive(),
      smallPool: z.boolean(),
      youngFilter: z.boolean(),
      /** What each of its points is for. */
      points: z.record(code, z.enum(POINT_ROLE_IDS)),
      loops: z.array(code),
      heaterKw: z.number().positive().optional(),
      feedKgPerDay: z.number().positive().optional(),
      note: text,
    }),
  )
  .min(1);

export const streamsSchema = z
  .array(
    z.strictObject({
      ...place,
      origin: z.enum(["probe", "equipment"]),
      intervalS: z.number().int().min(60).multipleOf(60),
      critical: z.boolean(),
      decimals: z.number().int().min(0).max(4),
    }),
  )
  .min(1);

const planBase = { code, systems: z.array(code).min(1), setBy: text, source: text };
const judged = { quantity: text, within: z.number().positive(), act: z.number().positive() };
const wave = {
  ...judged,
  mean: z.number(),
  amplitude: z.number().positive(),
  periodH: z.number().positive(),
  highAt: moment,
};
export const plansSchema = z.array(
  z.discriminatedUnion("kind", [
    z.strictObject({ ...planBase, kind: z.literal("tide"), ...wave }),
    z.strictObject({ ...planBase, kind: z.literal("season"), ...wave }),
    z.strictObject({
      ...planBase,
      kind: z.literal("light"),
      /** Hours of light on the 15th of each month, linear between. */
      monthlyHours: z.array(z.number().min(0).max(24)).length(12),
      middle: clock,
      latitude: z.number().min(-90).max(90).optional(),
    }),
    z.strictObject({
      ...planBase,
      kind: z.literal("steps"),
      ...judged,
      steps: z.array(z.tuple([moment, z.number()])).min(1),
    }),
  ]),
);

const edges = {
  low: edge,
  high: edge,
  actionLow: edge,
  actionHigh: edge,
  urgentLow: edge,
  urgentHigh: edge,
};
export const bandsSchema = z.array(
  z.strictObject({
    ...place,
    ...edges,
    from: moment.optional(),
    to: moment.optional(),
    reason: text,
    source: text,
    setBy: text,
  }),
);
