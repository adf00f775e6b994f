/** Shapes of the files the readings are computed from: ordinary days, and what departs from them. */
import { z } from "zod";
import { clock, code, moment, place, text } from "./schema-parts.ts";

const daySchema = z.strictObject({ low: z.number(), lowAt: clock, high: z.number(), highAt: clock });

/** How a channel behaves on an ordinary day. Exactly one of `day`, `steady`, `follows`, `meter`, `filling`, `light`. */
const channelSchema = z.strictObject({
  ...place,
  day: daySchema.optional(),
  steady: z.number().optional(),
  follows: code.optional(),
  meter: z.strictObject({ atD1: z.number().min(0), perDay: z.number().positive() }).optional(),
  filling: z
    .strictObject({
      clean: z.number(),
      dirty: z.number(),
      days: z.number().positive(),
      cleanedAt: moment,
      settlesAt: z.number(),
    })
    .optional(),
  light: z
    .strictObject({
      plan: code,
      peak: z.number().positive(),
      night: z.number().min(0),
      rampMin: z.number().positive(),
    })
    .optional(),
  /** Half-width of the slow wander, in the channel's unit. */
  wander: z.number().min(0),
  wanderH: z.number().positive().optional(),
  /** Standard deviation of the reading-to-reading noise; of a light, as a share of its value. */
  noise: z.number().min(0),
  /** What half a year away from D1 adds. */
  year: z.number().optional(),
  /** A tide or season plan the channel follows; the rest is added to it. */
  plan: code.optional(),
});

export const waterSchema = z.strictObject({
  channels: z
    .array(
      channelSchema.refine(
        (c) =>
          [c.day, c.steady, c.follows, c.meter, c.filling, c.light].filter((x) => x !== undefined).length ===
          1,
        "needs exactly one of day, steady, follows, meter, filling, light",
      ),
    )
    .min(1),
  states: z.array(
    z.strictObject({
      ...place,
      usual: text,
      cycle: z
        .strictObject({
          word: text,
          everyMin: z.number().int().positive(),
          forMin: z.number().int().positive(),
        })
        .refine((c) => c.forMin < c.everyMin, "forMin must be shorter than everyMin")
        .optional(),
    }),
  ),
});

export const courseSchema = z.strictObject({
  tracks: z.array(
    z.strictObject({
      ...place,
      /** `value` replaces the ordinary course, `delta` adds to it, `factor` multiplies it. */
      mode: z.enum(["value", "delta", "factor"]),
      points: z.array(z.tuple([moment, z.number()])).min(2),
      /** Hours (e-folding) in which the effect fades after the last point; 0 = at once; left out = it stays. */
      releaseH: z.number().min(0).optional(),
      /** Minutes in which the ordinary course is left for the track; 0 = at once. */
      joinMin: z.number().min(0).optional(),
      /** Factor on the noise while the track lasts. */
      noise: z.number().min(0).optional(),
      why: text,
    }),
  ),
  states: z.array(z.strictObject({ ...place, changes: z.array(z.tuple([moment, text.nullable()])).min(1) })),
  flats: z.array(z.strictObject({ ...place, from: moment, to: moment, value: z.number(), why: text })),
  silences: z.array(z.strictObject({ ...place, from: moment, to: moment, why: text })),
  late: z.array(z.strictObject({ ...place, from: moment, to: moment, deliveredAt: moment, why: text })),
  lightShifts: z.array(
    z.strictObject({
      system: code,
      from: moment,
      to: moment,
      minutes: z.number().int(),
      why: text,
    }),
  ),
});
