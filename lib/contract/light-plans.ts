/** Light schedules of a system as they are sent and shown. */
import * as z from "zod";
import { instantText } from "./api.ts";
import { instant, reason } from "./places.ts";

const words = (most: number) => z.string().trim().min(3).max(most);

/** POST /systems/{system}/light-plans. */
export const lightPlanRequest = z.strictObject({
  hours: z
    .array(z.number().min(0).max(24))
    .refine((hours) => hours.length === 1 || hours.length === 12, "give 1 value or 12")
    .describe("hours of light on the 15th of each month, or one value for the whole year"),
  middle: z
    .string()
    .regex(/^([01]\d|2[0-3]):[0-5]\d$/, "a clock time like 13:00")
    .describe("local clock time of the middle of the light"),
  latitude: z.number().min(-90).max(90).nullable(),
  shiftDays: z.int().min(-366).max(366).default(0),
  validFrom: instantText.optional().describe("default: now"),
  reason: words(500),
  source: words(500),
});

/** POST /light-plans/{plan}/withdraw. */
export const withdrawLightPlanRequest = z.strictObject({ reason });

const lightPlanView = z.object({
  id: z.string(),
  hours: z.array(z.number()).describe("hours on the 15th of each month, or one value for the whole year"),
  middle: z.string().describe("local clock time of the middle of the light"),
  latitude: z.number().nullable(),
  shiftDays: z.int().describe("days by which the animals' calendar runs ahead of the site's"),
  from: instant,
  to: instant.nullable(),
  stand: z
    .enum(["in force", "to come", "over", "void"])
    .describe("void: withdrawn, or replaced from its beginning"),
  setBy: z.string(),
  recorded: instant,
  reason: z.string(),
  source: z.string(),
});
export type LightPlanView = z.infer<typeof lightPlanView>;

/** GET /systems/{system}/light-plans. */
export const lightPlansView = z.object({
  now: instant,
  zone: z.string(),
  system: z.string(),
  name: z.string(),
  measured: z
    .boolean()
    .describe("whether light is measured here, so that it can be compared with a schedule"),
  today: z
    .object({ from: instant, to: instant })
    .nullable()
    .describe("the light planned for the site's day; null if no schedule was in force when the day began"),
  plans: z.array(lightPlanView).describe("latest start first"),
  homes: z
    .array(z.object({ species: z.string(), latitude: z.number() }))
    .describe("home latitudes of the residents' profiles"),
});
export type LightPlansView = z.infer<typeof lightPlansView>;
