/** How readings come: what is missing, and whose clock is off. Instants and durations are in milliseconds. */
import * as z from "zod";
import { instantText, shortName } from "./api.ts";

const instant = z.number().int().describe("UTC milliseconds");

export const arrivalsQuery = z.strictObject({
  from: instantText.optional().describe("default: 24 h before `to`"),
  to: instantText.optional().describe("not included; default: now. At most 400 days after `from`"),
  system: shortName.optional().describe("default: every system"),
});
export type ArrivalsQuery = z.output<typeof arrivalsQuery>;

const gap = z.object({
  after: z.number().int().describe("the number before the missing ones"),
  before: z.number().int().describe("the number after them"),
  missing: z.number().int(),
  from: instant,
  to: instant,
  stream: z.number().int().nullable().describe("null if the sender counts over all its streams"),
});
export const arrivalsView = z.object({
  now: instant,
  from: instant,
  to: instant,
  sources: z.array(
    z.object({
      source: z.string(),
      kind: z.string(),
      streams: z.number().int(),
      readings: z.number().int(),
      last: instant.describe("its newest reading, by the sender's clock"),
      skew: z
        .number()
        .nullable()
        .describe("ms its clock is behind ours, negative ahead; null if it cannot be told (recorded data)"),
      clock: z.enum(["good", "M", "F"]).nullable().describe("M above 30 s, F above 5 min"),
      longestDelay: z.number().nullable().describe("longest delay from the sender's time to receipt, ms"),
      sequence: z
        .object({
          counts: z.enum(["each stream", "all streams"]),
          numbered: z.number().int(),
          missing: z.number().int(),
          restarts: z.number().int(),
          since: instant.describe("sequence numbers are followed from this time on"),
          gaps: z.array(gap).describe("at most 100, newest first"),
        })
        .nullable()
        .describe("null if it sends no numbers"),
    }),
  ),
  streams: z.array(
    z.object({
      stream: z.number().int(),
      system: z.string(),
      point: z.string(),
      quantity: z.string(),
      readings: z.number().int(),
      expected: z.number().int().nullable().describe("by the stream's interval; null if it has none"),
      share: z.number().nullable().describe("0 to 1"),
      missingNumbers: z.number().int().describe("by the sender's count of this stream"),
    }),
  ),
  suspects: z
    .array(z.object({ stream: z.number().int(), from: instant, to: instant, received: instant }))
    .describe(
      "the newest span of each stream with a time more than 2 min ahead of or 30 days behind its receipt, among the last 500 commits; imported files excluded",
    ),
});
export type ArrivalsView = z.infer<typeof arrivalsView>;
