/** What the API is asked: query and body schemas. Unknown keys are refused; nothing is coerced from text but whole numbers of a query. */
import * as z from "zod";
import { ANSWERS } from "#core/bench/answer.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { decodeEpochMs, decodeTimeText } from "#core/time/time-text.ts";

export const MOST_POINTS = 5_000;
export const USUAL_POINTS = 800;
export const LONGEST_RANGE = 20 * 366 * DAY;
export const LONGEST_NIGHT = 31 * DAY;
export const RAW_PAGE = 100_000;

/** RFC 3339 with an offset, or whole milliseconds since 1970. */
export const instantText = z
  .union([z.number(), z.string().max(60)])
  .describe("RFC 3339 with an offset, or whole milliseconds since 1970")
  .transform((sent, context): Instant => {
    const decoded = typeof sent === "number" ? decodeEpochMs(sent) : decodeTimeText(sent);
    if (decoded.ok) return decoded.at;
    context.addIssue({ code: "custom", message: decoded.says, params: { remedy: decoded.remedy } });
    return z.NEVER;
  });

export const shortName = z.string().min(1).max(80);
const name = shortName;

export const seriesQuery = z.strictObject({
  quantity: name.describe("id of the registry, e.g. temperature"),
  point: name.optional().describe("a point's short name; default: the exhibit"),
  origin: z.enum(["probe", "bench", "equipment", "derived"]).optional().describe("default: probe"),
  from: instantText.optional().describe("default: 24 h before `to`"),
  to: instantText.optional().describe("not included; default: now"),
  points: z
    .int()
    .min(1)
    .max(MOST_POINTS)
    .optional()
    .describe(`maximum number of columns; default: ${USUAL_POINTS}`),
  resolution: z
    .enum(["raw", "15min", "3h", "day"])
    .optional()
    .describe(`exactly this one, up to ${RAW_PAGE} columns per page with \`next\``),
});
export type SeriesQuery = z.output<typeof seriesQuery>;

export const workingQuery = z.strictObject({
  quantity: name.describe("what was computed, e.g. unionised_ammonia"),
  point: name.optional().describe("a point's short name; default: the exhibit, or the only one there is"),
  at: instantText.optional().describe("the newest value at or before this instant; default: now"),
});
export type WorkingQuery = z.output<typeof workingQuery>;

export const overnightQuery = z.strictObject({
  from: instantText.optional().describe("default: the last 18:00 site time"),
  to: instantText.optional().describe("default: now"),
});
export type OvernightQuery = z.output<typeof overnightQuery>;

export const alarmsQuery = z.strictObject({
  active: z
    .enum(["true", "false"])
    .optional()
    .describe("default: true, only alarms that have not returned to normal"),
  system: name.optional(),
  from: instantText.optional(),
  to: instantText.optional(),
});
export type AlarmsQuery = z.output<typeof alarmsQuery>;

export const liveQuery = z.strictObject({
  seq: z.int().min(0).optional().describe("`seq` of the last event received; Last-Event-ID says the same"),
});

export const limitQuery = z.strictObject({
  limit: z.int().min(1).max(1_000).optional().describe("default: 100"),
});

export const benchRequest = z.strictObject({
  clientId: z
    .string()
    .min(1)
    .max(100)
    .regex(/^[\w.:-]+$/, "only letters, digits, dot, colon, dash and underscore")
    .describe("chosen by the sender and repeated at each retry, so that the test is stored once"),
  system: name,
  point: name,
  sampledAt: instantText,
  note: z.string().max(2_000).optional(),
  results: z
    .array(
      z.strictObject({
        quantity: name,
        value: z
          .union([z.string().max(40), z.number()])
          .describe('as read, preferably as text so that "8.10" keeps its digits; "<0.02" is understood'),
        qualifier: z.enum(["=", "<", ">"]).optional(),
        unit: z.string().max(40).describe("as typed; must convert exactly to the registry's unit"),
        method: z.string().min(1).max(100).optional(),
        replicate: z.int().min(1).max(20).optional(),
        supersedes: name.optional().describe("id of the result this one corrects"),
        reason: z.string().min(1).max(500).optional().describe("why; required with supersedes"),
        answer: z
          .enum(ANSWERS)
          .optional()
          .describe(
            "what the tester said to a question about the result: it is right, not sure and to be tested again, not answered",
          ),
        asked: z.string().min(1).max(500).optional().describe("the question as it was put"),
      }),
    )
    .min(1)
    .max(60),
});
export type BenchRequest = z.output<typeof benchRequest>;

export const readingsRequest = z.strictObject({
  readings: z
    .array(
      z.strictObject({
        system: name,
        point: name,
        quantity: name,
        at: instantText,
        value: z.union([z.number(), z.string().max(40)]).describe("a number, or the word of a state"),
        unit: z.string().max(40).optional().describe("default: the registry's unit"),
      }),
    )
    .min(1)
    .max(10_000),
});
