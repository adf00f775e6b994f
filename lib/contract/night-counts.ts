/** The nightly counts that breeding watches ask for, and the pool kept ready for the young. */
import * as z from "zod";
import { instantText } from "./api.ts";
import { clientId, instant, note } from "./places.ts";

/** POST /breeding-watches/{watch}/counts. */
export const nightCountRequest = z.strictObject({
  clientId,
  counted: z
    .int()
    .min(0)
    .max(100_000)
    .describe("animals of the watch's species found alive, not counting eggs"),
  at: instantText.optional().describe("default: now"),
  note: note.optional(),
});

const proof = z.enum(["yes", "no", "not known"]);
export type Proof = z.infer<typeof proof>;
export const pupPoolView = z.object({
  system: z.string(),
  name: z.string(),
  cycled: proof.describe("total ammonia and nitrite of the newest bench tests within the pool's band"),
  atTemperature: proof.describe("temperature within the pool's band, by a probe that can be believed"),
  says: z.array(z.string()).describe("each with its value, unit, age and band"),
});
export type PupPoolView = z.infer<typeof pupPoolView>;

const count = z.object({
  counted: z.int(),
  onRecord: z.int(),
  at: instant,
  by: z.string(),
  note: z.string().nullable(),
  says: z.string(),
});
export const nightCountView = z.object({
  watch: z.string(),
  system: z.string(),
  systemName: z.string(),
  zone: z.string(),
  who: z.string(),
  kind: z.enum(["gestation", "incubation"]),
  stand: z.enum(["asked", "due", "done"]),
  night: instant.describe("the evening that the night began, 18:00 site time"),
  onRecord: z.int(),
  count: count.nullable().describe("the latest count of the night"),
  pool: pupPoolView.nullable().describe("null if none is named"),
});
export type NightCountView = z.infer<typeof nightCountView>;
/** GET /night-counts. */
export const nightCountsView = z.object({
  now: instant,
  counts: z
    .array(nightCountView)
    .describe("counts that are due first, then those asked for, then those done"),
});
export type NightCountsView = z.infer<typeof nightCountsView>;

export const nightCountAnswer = z.object({
  id: z.string(),
  received: instant,
  repeated: z.boolean().describe("already stored under the same client id"),
  count,
});
export type NightCountAnswer = z.infer<typeof nightCountAnswer>;
