/** The signed note between shifts: a frozen copy of what was known, and to whom the unanswered passes. */
import * as z from "zod";
import { alarmView } from "./answers.ts";
import { instantText } from "./api.ts";
import { logEntryView } from "./log.ts";
import { clientId, instant, named, note } from "./places.ts";
import { overnightView } from "./views.ts";

export const handoverDraftQuery = z.strictObject({
  from: instantText.optional().describe("default: the last handover"),
});
export const handoversQuery = z.strictObject({
  limit: z.int().min(1).max(200).optional().describe("default: 50"),
  before: z.int().optional().describe("only those signed before this instant: the next page"),
});
/** GET /handovers/draft: what would be signed now. */
export const handoverDraft = z.object({
  from: instant.describe(
    "when the last handover was signed, at most 31 days ago; else the last 18:00 site time",
  ),
  to: instant,
  zone: z.string(),
  overnight: overnightView,
  unanswered: z
    .array(alarmView)
    .describe("active alarms that nobody acknowledged, and those at an action limit without a response"),
  open: z.array(logEntryView).describe("log entries still going on"),
});
export type HandoverDraft = z.infer<typeof handoverDraft>;

/** POST /handovers. */
export const handoverRequest = z.strictObject({
  clientId,
  note,
  notes: z
    .array(z.strictObject({ system: named, text: note }))
    .max(200)
    .optional()
    .describe("one note per system"),
  passesTo: z
    .string()
    .trim()
    .max(80)
    .optional()
    .describe("who takes over what is unanswered; required if anything is"),
  from: instantText.optional().describe("default: as in the draft"),
  seen: z
    .array(z.string().max(200))
    .max(2_000)
    .describe(
      "ids of the unanswered alarms that were on the screen; refused if another one has been raised since",
    ),
});
/** GET /handovers/{handover}, and what signing answers. */
export const handoverView = handoverDraft.extend({
  id: z.string(),
  clientId: z.string(),
  note: z.string(),
  notes: z.array(z.object({ system: z.string(), name: z.string(), text: z.string() })),
  passesTo: z.string().nullable(),
  signedBy: z.string(),
  signed: instant,
  hash: z.string().describe("SHA-256 of the frozen copy as stored"),
});
export type HandoverView = z.infer<typeof handoverView>;
export const handoverAnswer = z.object({ handover: handoverView, repeated: z.boolean() });
export type HandoverAnswer = z.infer<typeof handoverAnswer>;
/** GET /handovers. */
export const handoversView = z.object({
  zone: z.string(),
  handovers: z
    .array(
      z.object({
        id: z.string(),
        from: instant,
        to: instant,
        signed: instant,
        signedBy: z.string(),
        passesTo: z.string().nullable(),
        unanswered: z.number().int(),
        note: z.string(),
      }),
    )
    .describe("newest first"),
});
export type HandoversView = z.infer<typeof handoversView>;
