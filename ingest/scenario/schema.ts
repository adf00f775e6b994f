/** Shapes of the files of a demo scenario folder. Times are a day and a local clock ("D4 01:37"), counted from D1. */
import { z } from "zod";

const code = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, "lower-case words joined by hyphens");
const clock = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'a local clock such as "05:30"');
export const momentSchema = z
  .string()
  .regex(/^D-?\d{1,3} ([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?$/, 'a day and local clock such as "D4 01:37"');
const edge = z.number().nullable();
const place = { system: code, point: code, quantity: z.string().min(1) };
const text = z.string().min(1);

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
      type: z.enum(["A", "B", "C", "D", "E", "F", "G", "H1", "H2", "Q"]),
      water: z.enum(["fresh", "brackish", "marine"]),
      volumeM3: z.number().positive(),
      flowDutyM3h: z.number().positive(),
      smallPool: z.boolean(),
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
      cleanedAt: momentSchema,
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
      points: z.array(z.tuple([momentSchema, z.number()])).min(2),
      /** Hours (e-folding) in which the effect fades after the last point; 0 = at once; left out = it stays. */
      releaseH: z.number().min(0).optional(),
      /** Minutes in which the ordinary course is left for the track; 0 = at once. */
      joinMin: z.number().min(0).optional(),
      /** Factor on the noise while the track lasts. */
      noise: z.number().min(0).optional(),
      why: text,
    }),
  ),
  states: z.array(
    z.strictObject({ ...place, changes: z.array(z.tuple([momentSchema, text.nullable()])).min(1) }),
  ),
  flats: z.array(
    z.strictObject({ ...place, from: momentSchema, to: momentSchema, value: z.number(), why: text }),
  ),
  silences: z.array(z.strictObject({ ...place, from: momentSchema, to: momentSchema, why: text })),
  late: z.array(
    z.strictObject({ ...place, from: momentSchema, to: momentSchema, deliveredAt: momentSchema, why: text }),
  ),
  lightShifts: z.array(
    z.strictObject({
      system: code,
      from: momentSchema,
      to: momentSchema,
      minutes: z.number().int(),
      why: text,
    }),
  ),
});

const planBase = { code, systems: z.array(code).min(1), setBy: text, source: text };
const judged = { quantity: text, within: z.number().positive(), act: z.number().positive() };
const wave = {
  ...judged,
  mean: z.number(),
  amplitude: z.number().positive(),
  periodH: z.number().positive(),
  highAt: momentSchema,
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
      steps: z.array(z.tuple([momentSchema, z.number()])).min(1),
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
    from: momentSchema.optional(),
    to: momentSchema.optional(),
    reason: text,
    source: text,
    setBy: text,
  }),
);

export const speciesSchema = z.array(
  z.strictObject({
    code,
    name: text,
    scientific: text,
    group: z.enum(["elasmobranch", "bony fish", "coral", "jelly", "cephalopod"]),
    note: text.optional(),
  }),
);

export const residentsSchema = z.array(
  z.strictObject({
    system: code,
    species: code,
    name: text.optional(),
    stage: z.enum(["egg or larva", "pup or juvenile", "adult", "breeding", "gestating"]),
    sex: z.enum(["female", "male"]).optional(),
    count: z.number().int().positive(),
    massKg: z.number().positive().optional(),
    from: momentSchema,
    to: momentSchema.optional(),
    note: text.optional(),
  }),
);

const resultSchema = z.strictObject({
  quantity: text,
  /** As typed, digits kept. */
  value: z.string().regex(/^-?\d+(\.\d+)?$/, "a plain decimal number"),
  qualifier: z.enum(["<", ">"]).optional(),
  unit: text,
  method: text,
  detectionLimit: z.number().positive().optional(),
  correction: z
    .strictObject({ at: momentSchema, value: z.string().regex(/^-?\d+(\.\d+)?$/), unit: text, reason: text })
    .optional(),
});
export const benchSchema = z.array(
  z.strictObject({
    at: momentSchema,
    system: code,
    point: code,
    by: text,
    animal: text.optional(),
    results: z.array(resultSchema).min(1),
    note: text.optional(),
  }),
);

export const EVENT_KINDS = [
  "feed",
  "water-change",
  "backwash",
  "dosing",
  "treatment",
  "animal-move",
  "animal-note",
  "birth",
  "death",
  "calibration",
  "probe-clean",
  "out-of-service",
  "valve",
  "lights-change",
  "set-point",
  "round",
  "breeding",
  "acknowledge",
  "note",
] as const;
const eventBody = {
  kind: z.enum(EVENT_KINDS),
  systems: z.array(code).min(1),
  quantity: text.optional(),
  amount: z.number().optional(),
  unit: text.optional(),
  animals: z.array(text).optional(),
  by: text,
  text,
};
export const eventsSchema = z.strictObject({
  once: z.array(
    z.strictObject({
      ...eventBody,
      at: momentSchema,
      until: momentSchema.optional(),
      /** When the note reached the log, where it was written offline. */
      sentAt: momentSchema.optional(),
    }),
  ),
  daily: z.array(z.strictObject({ ...eventBody, clock, lastsMin: z.number().int().positive().optional() })),
});
