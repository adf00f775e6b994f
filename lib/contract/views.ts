/**
 * What the read services return, the API sends and the pages draw: one set of schemas, from which the OpenAPI document is made.
 * Every number stands beside its unit; instants are UTC milliseconds.
 */
import * as z from "zod";
import { FINDING_KIND_NAMES } from "#core/alarms/kinds.ts";
import { STANDINGS } from "#core/alarms/standing.ts";
import { POINT_ROLE_IDS } from "#core/set-up/point-role.ts";
import { SYSTEM_TYPE_IDS } from "#core/set-up/system-type.ts";

const instant = z.number().int().describe("UTC milliseconds");
const number = z.number().nullable();

export const bandEdges = z.object({
  low: number,
  high: number,
  actionLow: number,
  actionHigh: number,
  urgentLow: number,
  urgentHigh: number,
});

/** How a system or a quantity stands, worst first: needs action, wants a look, not known, calm. */
export const standing = z.enum(STANDINGS);
export type Standing = z.infer<typeof standing>;

export const findingView = z.object({
  id: z.string(),
  system: z.string().describe("system's short name"),
  systemName: z.string(),
  point: z.string(),
  quantity: z.string(),
  quantityLabel: z.string(),
  unitLabel: z.string(),
  decimals: z.number(),
  kind: z.enum(FINDING_KIND_NAMES),
  rule: z.string(),
  severity: z.enum(["look", "action", "urgent"]),
  began: instant,
  raised: instant,
  ended: instant.nullable(),
  late: z.boolean(),
  says: z.string().describe("one sentence with numbers and units"),
  evidence: z.record(z.string(), z.union([z.number(), z.string(), z.null()])),
  alarm: z
    .object({
      id: z.string(),
      state: z.enum(["NORMAL", "UNACK", "ACK", "RTN_UNACK"]),
      severity: z
        .enum(["look", "action", "urgent"])
        .optional()
        .describe("of the alarm; the finding may have eased since"),
      raised: instant,
      cleared: instant.nullable(),
      acknowledged: instant.nullable(),
      acknowledgedBy: z.string().nullable(),
    })
    .nullable(),
});
export type FindingView = z.infer<typeof findingView>;

/** One quantity at one point, now. */
export const streamState = z.object({
  stream: z.number().int(),
  point: z.string(),
  role: z.enum(POINT_ROLE_IDS).describe("what the point is for"),
  quantity: z.string(),
  label: z.string(),
  unit: z.string().describe("UCUM code, empty for states"),
  unitLabel: z.string(),
  decimals: z.number().int(),
  origin: z.enum(["probe", "bench", "equipment", "derived"]),
  critical: z.boolean(),
  basis: z
    .string()
    .optional()
    .describe("for a pH or ORP probe: the scale or electrode of its value now, in words"),
  at: instant.nullable(),
  value: number,
  low: number.describe("lower end of the interval, where the value has one"),
  high: number,
  word: z.string().nullable().describe("the word of a state quantity"),
  flag: z.number().int(),
  reasons: z.array(z.string()),
  received: instant.nullable(),
  silent: z.boolean(),
  deviation: number.describe(
    "signed; 0 in the target band, 1 at the action limit; null if not proven or no band",
  ),
  band: bandEdges.nullable(),
  bandSource: z.string().nullable(),
  rate: number.describe("units per hour over the last two hours"),
  plan: number.describe("value its plan calls for now"),
  sweepLow: number.describe("lowest good value since 18:00 site time"),
  sweepHigh: number,
  standing: standing,
  muted: z
    .string()
    .optional()
    .describe("until when logged work mutes alarms of it; left out where none does"),
});
export type StreamState = z.infer<typeof streamState>;

export const systemNote = z.object({ kind: z.enum(["no common range", "alarms muted"]), says: z.string() });
export type SystemNote = z.infer<typeof systemNote>;

export const systemState = z.object({
  system: z.string(),
  name: z.string(),
  site: z.string(),
  kind: z.string().describe("what people call it, in plain words"),
  type: z.enum(SYSTEM_TYPE_IDS).describe("what it is used for"),
  water: z.enum(["fresh", "brackish", "marine"]),
  volume: z.number().describe("m3"),
  loops: z.array(z.string()),
  residents: z.array(z.string()).describe("in words"),
  standing: standing,
  /** Largest absolute deviation of its believable streams. */
  worst: number,
  streams: z.array(streamState),
  findings: z.array(findingView).describe("open now"),
  notes: z
    .array(systemNote)
    .optional()
    .describe(
      "what its standing does not say: residents without a common range, muted alarms; left out where nothing is",
    ),
});
export type SystemState = z.infer<typeof systemState>;

export const systemsView = z.object({
  now: instant,
  zone: z.string(),
  siteName: z.string(),
  /** Journal position these states are true for. */
  seq: z.number().int(),
  systems: z.array(systemState).describe("worst first"),
  oldest: z.object({ system: z.string(), quantity: z.string(), at: instant }).nullable(),
});
export type SystemsView = z.infer<typeof systemsView>;

export const seriesView = z.object({
  system: z.string(),
  point: z.string(),
  quantity: z.string(),
  label: z.string(),
  unit: z.string(),
  unitLabel: z.string(),
  decimals: z.number().int(),
  origin: z.enum(["probe", "bench", "equipment", "derived"]),
  resolution: z.enum(["raw", "15min", "3h", "day"]),
  /** Days are joined where a range has more of them than points were asked for. */
  step: number.describe("milliseconds a column spans, null for raw"),
  from: instant,
  to: instant,
  columns: z.object({
    at: z.array(z.number()),
    min: z.array(number),
    mean: z.array(number),
    max: z.array(number),
    n: z.array(z.number()),
    flag: z.array(z.number()),
    low: z
      .array(number)
      .optional()
      .describe("derived values: lower end of the interval; for a column, the lowest in it"),
    high: z.array(number).optional(),
    qualifier: z
      .array(z.enum(["=", "<", ">"]))
      .optional()
      .describe("bench results: below or above the method's range"),
  }),
  flagged: z
    .array(z.object({ at: instant, flag: z.number().int(), reasons: z.array(z.string()) }))
    .optional()
    .describe("raw: readings set aside as suspect or failed, each with its reasons"),
  next: instant.nullable(),
  bands: z
    .array(z.object({ from: instant, to: instant, edges: bandEdges }))
    .describe("in force over the range"),
});
export type SeriesView = z.infer<typeof seriesView>;

/** How long a finding's quantity has; times in milliseconds from now on. */
export const timeLeftView = z.discriminatedUnion("kind", [
  z.object({
    kind: z.literal("reaches"),
    target: z.enum(["edge", "limit"]),
    value: z.number(),
    from: z.number(),
    to: z.number().nullable().describe("null: later than seven days, if at all"),
    isStated: z
      .boolean()
      .optional()
      .describe("true: a 90 % interval whose coverage was measured on this stream; else rough"),
  }),
  z.object({ kind: z.literal("past"), value: z.number() }),
  z
    .object({ kind: z.literal("not soon"), value: z.number() })
    .describe("no proven course gets there within seven days"),
  z.object({ kind: z.enum(["away", "open", "not known"]) }),
]);
export type TimeLeftView = z.infer<typeof timeLeftView>;

/** unanswered and answered: active alarms; ended: over, and not acknowledged; look: active, calls nobody; over: ended, nothing to answer. */
export const nightGroup = z.enum([
  "unanswered",
  "ended",
  "answered",
  "look",
  "recovering",
  "unknown",
  "over",
]);
export type NightGroup = z.infer<typeof nightGroup>;
const nightMember = {
  finding: z.string().describe("its id"),
  course: z.enum(["worse", "steady", "recovering"]),
  left: timeLeftView,
};
/** One incident: what stands first of it, and what else belongs to it. */
export const nightItem = z.object({
  ...nightMember,
  others: z
    .array(z.object(nightMember))
    .optional()
    .describe("the other findings of its incident, in order of time; left out where it is alone"),
  says: z
    .string()
    .optional()
    .describe("what all of it is in one sentence, where that is more than its first finding says"),
});
export type NightItem = z.infer<typeof nightItem>;

export const overnightView = z.object({
  from: instant,
  to: instant,
  zone: z.string(),
  findings: z.array(findingView).describe("in the order of the groups, most serious first in each"),
  groups: z
    .array(z.object({ group: nightGroup, items: z.array(nightItem) }))
    .describe("every incident once, in the group of its most pressing finding; empty ones are left out"),
  unknown: z.array(
    z.object({ system: z.string(), quantity: z.string(), since: instant.nullable(), why: z.string() }),
  ),
  notes: z
    .array(systemNote.extend({ system: z.string() }))
    .optional()
    .describe("notes of all systems, as they are now"),
  responded: z
    .array(z.string())
    .optional()
    .describe("acknowledged alarms that have a response in the logbook"),
  calm: z.array(z.string()).describe("calm now"),
  calmAllNight: z.array(z.string()).describe("calm now, and nothing was found in the range"),
  completeness: z.array(
    z.object({
      system: z.string(),
      quantity: z.string(),
      point: z.string(),
      expected: z.number(),
      got: z.number(),
      share: z.number(),
    }),
  ),
  summary: z
    .object({
      unanswered: z
        .number()
        .int()
        .describe(
          "alarms, also those that are over: not acknowledged, or past an action limit without a response",
        ),
      withoutResponse: z.number().int().optional().describe("those of them that are acknowledged"),
      unlisted: z
        .number()
        .int()
        .optional()
        .describe("those of them whose finding is not listed: it was superseded or judged anew"),
      worse: z.number().int().describe("systems"),
      recovering: z.number().int(),
      unknown: z.number().int(),
      calm: z.number().int().describe("calm all night"),
      share: number.describe("readings received as a share of those expected; null if none are expected"),
    })
    .describe("one system counts in each that it is in"),
  names: z.record(z.string(), z.string()).describe("names of the systems mentioned, by short name"),
  labels: z.record(z.string(), z.string()).describe("names of the quantities mentioned, by id"),
});
export type OvernightView = z.infer<typeof overnightView>;

/** One server-sent event of GET /api/v1/live: streams that changed, findings that changed; `seq` for catching up. */
export const liveEvent = z.object({
  now: instant,
  seq: z.number().int(),
  systems: z.array(systemState).describe("full state of every system that changed"),
  counts: z.object({ rejected: z.number(), unclaimed: z.number() }),
});
export type LiveEvent = z.infer<typeof liveEvent>;
