/** The logbook: what people did. Kinds, their quiet and their caps are in lib/core/logbook/kinds.ts. */
import * as z from "zod";
import { LOG_KIND_IDS } from "#core/logbook/kinds.ts";
import { instantText } from "./api.ts";
import { clientId, instant, named, note, reason } from "./places.ts";

const kind = z.enum(LOG_KIND_IDS);
const systems = z.array(named).min(1).max(20).describe("short names");
const fields = {
  kind,
  systems,
  point: named.optional().describe("for one probe or pump"),
  quantity: named.optional(),
  at: instantText.describe("when it began"),
  until: instantText.optional().describe("when it ended; omit if it is still going on or took no time"),
  open: z.boolean().optional().describe("true: it is still going on; only for kinds that last"),
  expected: instantText.optional().describe("out of service: when it will be back"),
  amount: z.number().optional(),
  unit: z.string().min(1).max(40).optional().describe("as typed; required with an amount"),
  item: z.string().trim().max(200).optional().describe("batch, food, drug or part"),
  animals: z.array(z.string().trim().min(1).max(80)).max(50).optional(),
  text: note,
  alarm: named.optional().describe("the alarm this is the response to"),
};

/** POST /log-entries. */
export const logRequest = z.strictObject({ clientId, ...fields });
/** POST /log-entries/{entry}/close. */
export const closeLogRequest = z.strictObject({
  clientId,
  at: instantText.describe("when it ended"),
  text: note.optional(),
});
/** POST /log-entries/{entry}/correct: what is given replaces what was; null takes it away. The entry before stays readable. */
export const correctLogRequest = z.strictObject({
  clientId,
  reason,
  systems: systems.optional(),
  point: named.nullable().optional(),
  quantity: named.nullable().optional(),
  at: instantText.optional(),
  until: instantText.nullable().optional(),
  amount: z.number().nullable().optional(),
  unit: z.string().min(1).max(40).nullable().optional(),
  item: z.string().trim().max(200).nullable().optional(),
  animals: z.array(z.string().trim().min(1).max(80)).max(50).optional(),
  text: note.optional(),
});

export const logEntryView = z.object({
  id: z.string().describe("the same for all its versions"),
  clientId: z.string(),
  kind,
  kindLabel: z.string(),
  systems: z.array(z.object({ system: z.string(), name: z.string() })),
  point: z.string().nullable(),
  quantity: z.string().nullable(),
  quantityLabel: z.string().nullable(),
  at: instant,
  until: instant.nullable(),
  open: z.boolean().describe("still going on"),
  expected: instant.nullable(),
  amount: z.number().nullable(),
  unit: z.string().nullable(),
  item: z.string().nullable(),
  animals: z.array(z.string()),
  text: z.string(),
  alarm: z.string().nullable(),
  by: z.string(),
  entered: instant.describe("when it was typed in"),
  late: z.boolean().describe("typed in more than a day after it began"),
  closedBy: z.string().nullable(),
  closingText: z.string().nullable(),
  quiet: z
    .object({ until: instant, says: z.string() })
    .nullable()
    .describe("what it mutes and until when; null if nothing"),
  overdue: z.string().nullable().describe("still open past its cap: what to do"),
  reason: z.string().nullable().describe("why it was corrected"),
  earlier: z
    .array(
      z.object({
        id: z.string(),
        by: z.string(),
        entered: instant,
        systems: z.array(z.object({ system: z.string(), name: z.string() })),
        point: z.string().nullable(),
        quantityLabel: z.string().nullable(),
        at: instant,
        until: instant.nullable(),
        amount: z.number().nullable(),
        unit: z.string().nullable(),
        item: z.string().nullable(),
        animals: z.array(z.string()),
        text: z.string(),
        reason: z.string().nullable(),
      }),
    )
    .describe("earlier versions, newest first"),
});
export type LogEntryView = z.infer<typeof logEntryView>;
export type EarlierVersion = LogEntryView["earlier"][number];
/** What POST /log-entries, close and correct answer. */
export const logAnswer = z.object({ entry: logEntryView, repeated: z.boolean(), received: instant });
export type LogAnswer = z.infer<typeof logAnswer>;

/** GET /log-entries. */
export const logQuery = z.strictObject({
  from: instantText.optional().describe("default: 24 h before `to`"),
  to: instantText.optional().describe("default: now"),
  systems: z
    .string()
    .max(2_000)
    .optional()
    .describe("short names, separated by commas; default: every system"),
  kinds: z.string().max(500).optional().describe("kinds, separated by commas"),
  open: z.enum(["true"]).optional().describe("only what is still going on, however old"),
  limit: z.int().min(1).max(1_000).optional().describe("default: 200"),
});
export type LogQuery = z.output<typeof logQuery>;
export const logView = z.object({
  now: instant,
  zone: z.string(),
  from: instant,
  to: instant,
  entries: z.array(logEntryView).describe("in force now, newest first"),
  more: z.boolean().describe("there are older ones in the range"),
});
export type LogView = z.infer<typeof logView>;
