/** The bench form's own reading, and what can be done with a result once it is stored. */
import * as z from "zod";
import { benchResultView } from "./answers.ts";
import { clientId, instant, reason } from "./places.ts";
import { bandEdges } from "./views.ts";

/** POST /bench-results/{result}/void: it was entered by mistake; the row stays and counts nowhere. */
export const voidRequest = z.strictObject({ clientId, reason });
/** POST /bench-results/{result}/correct: a new result that stands for the old one. */
export const correctRequest = z.strictObject({
  clientId,
  value: z.union([z.string().max(40), z.number()]).describe('as read; "<0.02" is understood'),
  qualifier: z.enum(["=", "<", ">"]).optional(),
  unit: z.string().max(40),
  method: z.string().min(1).max(100).optional(),
  reason,
});
export const voidAnswer = z.object({
  id: z.string().describe("of the voiding row"),
  result: z.string(),
  by: z.string(),
  reason: z.string(),
  repeated: z.boolean(),
  received: instant,
});
export type VoidAnswer = z.infer<typeof voidAnswer>;

/** GET /systems/{system}/bench. */
export const lastBenchQuery = z.strictObject({
  limit: z.int().min(1).max(20).optional().describe("results for each quantity; default: 3"),
});
export const lastBenchView = z.object({
  now: instant,
  zone: z.string(),
  system: z.string(),
  name: z.string(),
  points: z.array(z.string()),
  quantities: z
    .array(
      z.object({
        quantity: z.string(),
        label: z.string(),
        unit: z.string(),
        unitLabel: z.string(),
        decimals: z.number().int(),
        point: z.string(),
        units: z.array(z.string()).describe("units it may be typed in; each converts exactly"),
        band: bandEdges.nullable(),
        bandSource: z.string().nullable(),
        last: z
          .array(benchResultView.extend({ sampledAt: instant, analyst: z.string() }))
          .describe("newest first; voided and superseded ones left out"),
        probe: z
          .object({ value: z.number(), at: instant })
          .nullable()
          .describe("what the probe at this point reads now, if it can be believed"),
      }),
    )
    .describe("what has been tested here before, then what the bands ask for"),
});
export type LastBenchView = z.infer<typeof lastBenchView>;
