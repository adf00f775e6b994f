/** Shapes of the files that hold who lives where, and what people measured and wrote. */
import { z } from "zod";
import { clock, code, moment, text } from "./schema-parts.ts";

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
    from: moment,
    to: moment.optional(),
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
  /** What the form asked about it, where its tester was not sure. */
  doubt: text.optional(),
  correction: z
    .strictObject({ at: moment, value: z.string().regex(/^-?\d+(\.\d+)?$/), unit: text, reason: text })
    .optional(),
});
export const benchSchema = z.array(
  z.strictObject({
    at: moment,
    system: code,
    point: code,
    by: text,
    animal: text.optional(),
    results: z.array(resultSchema).min(1),
    note: text.optional(),
  }),
);

const EVENT_KINDS = [
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
  /** Of a pH electrode, percent and mV at pH 7. */
  slope: z.number().optional(),
  offset: z.number().optional(),
  by: text,
  text,
};
export const eventsSchema = z.strictObject({
  once: z.array(
    z.strictObject({
      ...eventBody,
      at: moment,
      until: moment.optional(),
      /** When the note reached the log, where it was written offline. */
      sentAt: moment.optional(),
    }),
  ),
  daily: z.array(z.strictObject({ ...eventBody, clock, lastsMin: z.number().int().positive().optional() })),
});
