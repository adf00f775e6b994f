/** Profiles, residents, compromises and breeding watches as they are sent and shown. */
import * as z from "zod";
import { CONFIDENCES, ENTRY_KINDS, MARKS, MEANINGS, OUTCOMES, STAGES } from "#core/habitat/index.ts";
import { instantText } from "./api.ts";
import { pupPoolView } from "./night-counts.ts";
import { instant, named, note, reason } from "./places.ts";
import { bandEdges } from "./views.ts";

const text = z.string().trim().max(300);
const maybe = text.nullable().optional().default(null);
const number = z.number().nullable().optional().default(null);
const code = z
  .string()
  .min(2)
  .max(60)
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, "small letters, digits and single dashes, as in cownose-ray");
const source = text.min(3).describe("where it is known from: a paper, a handbook, a data set, a person");

/** One number of a profile. */
export const profileEntryForm = z.strictObject({
  quantity: named.describe("id of the registry, e.g. temperature"),
  stage: z
    .enum(STAGES)
    .nullable()
    .optional()
    .default(null)
    .describe("null: every stage without an entry of its own"),
  month: z
    .int()
    .min(1)
    .max(12)
    .nullable()
    .optional()
    .default(null)
    .describe("1 to 12, applies at mid-month; null: all year"),
  low: number,
  typical: number,
  high: number,
  means: z.enum(MEANINGS).describe("what low and high stand for"),
  kind: z
    .enum(ENTRY_KINDS)
    .describe("preferred and advised ones set edges, tolerated and lethal ones bound action limits"),
  depth: maybe,
  place: maybe,
  years: maybe,
  source,
  mark: z.enum(MARKS).describe("how the source was obtained"),
  method: maybe,
  confidence: z.enum(CONFIDENCES),
  note: maybe,
});
const development = z.strictObject({
  kind: z.enum(["gestation", "incubation"]),
  shortestDays: z.number().positive().max(2_000),
  longestDays: z.number().positive().max(2_000),
  source,
  mark: z.enum(MARKS),
});
export const speciesForm = z.strictObject({
  id: code,
  name: text.min(2),
  scientific: maybe,
  group: maybe,
  development: z.array(development).max(4).optional().default([]),
  mayDelay: z
    .boolean()
    .nullable()
    .optional()
    .default(null)
    .describe("sperm stored or development delayed; null: not known"),
  delaySource: maybe,
  facts: z
    .array(z.strictObject({ says: text.min(3), source, mark: z.enum(MARKS) }))
    .max(40)
    .optional()
    .default([]),
});
const coordinate = (most: number) => z.number().min(-most).max(most).nullable().optional().default(null);
export const profileForm = z.strictObject({
  population: maybe.describe("founder origin; null: the species wherever it lives"),
  latitude: coordinate(90),
  longitude: coordinate(180),
  entries: z.array(profileEntryForm).min(1).max(500),
});
/** A profile as it is exported and imported; its JSON schema is published at /api/v1/profiles/schema.json. */
export const profileFile = z.strictObject({
  format: z.literal("homewater profile 1"),
  species: speciesForm,
  profiles: z.array(profileForm).max(20),
});
export type ProfileFile = z.infer<typeof profileFile>;

/** POST /profiles/{species}: a new version. */
export const saveProfileRequest = z.strictObject({
  species: speciesForm.optional(),
  ...profileForm.shape,
  reason,
});
/** POST /profiles/{species}/import. */
export const importProfileRequest = z.strictObject({
  format: z.enum(["json", "csv"]),
  text: z.string().max(1_000_000),
  population: text.nullable().optional().describe("for a CSV: its rows are one profile"),
  reason,
});
export const exportQuery = z.strictObject({
  format: z.enum(["json", "csv"]).optional().default("json"),
  population: text.optional(),
});
/** POST /profiles: from the library the program brings. */
export const addFromLibraryRequest = z.strictObject({
  species: z.array(code).min(1).max(100),
  reason: reason.optional(),
});

const entryView = z.object({
  ...profileEntryForm.shape,
  label: z.string(),
  unitLabel: z.string(),
});
const profileHead = z.object({
  id: z.string(),
  population: z.string().nullable(),
  version: z.int(),
  inForce: z.boolean(),
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  recorded: instant,
  recordedBy: z.string(),
  reason: z.string(),
  entries: z.int(),
});
const speciesHead = z.object({
  id: z.string(),
  name: z.string(),
  scientific: z.string().nullable(),
  group: z.string().nullable(),
});
export const profilesView = z.object({
  now: instant,
  species: z.array(
    z.object({
      ...speciesHead.shape,
      profiles: z.array(profileHead).describe("newest first"),
      livesIn: z.array(z.object({ system: z.string(), name: z.string(), count: z.int() })),
    }),
  ),
  library: z.array(z.object({ ...speciesHead.shape, entries: z.int(), isKnown: z.boolean() })),
});
export type ProfilesView = z.infer<typeof profilesView>;
export const profileView = z.object({
  now: instant,
  species: z.object({
    ...speciesHead.shape,
    development: z.array(development),
    mayDelay: z.boolean().nullable(),
    delaySource: z.string().nullable(),
    facts: z.array(z.object({ says: z.string(), source: z.string(), mark: z.enum(MARKS) })),
  }),
  profiles: z.array(z.object({ ...profileHead.shape, all: z.array(entryView) })),
});
export type ProfileView = z.infer<typeof profileView>;

const stage = z.enum(STAGES);
const at = instantText.optional().describe("default: now");
const confirm = z
  .boolean()
  .optional()
  .describe(
    "also confirm the action limits that follow; otherwise they stay unchanged until somebody confirms them",
  );
const massKg = z
  .number()
  .positive()
  .max(1_000_000)
  .nullable()
  .optional()
  .describe("body mass of all of them together, kg: how long the oxygen lasts when the water stands");
const massSource = text
  .nullable()
  .optional()
  .describe("where the mass is from: weighed, from length, a guess");
/** POST /systems/{system}/residents. */
export const moveInRequest = z.strictObject({
  species: code,
  population: text.nullable().optional(),
  name: text.min(1).nullable().optional(),
  sex: z.enum(["female", "male"]).nullable().optional(),
  stage,
  count: z.int().min(1).max(100_000),
  massKg,
  massSource,
  at,
  note: note.optional(),
  confirm,
});
/** POST /residents/{stay}/move: to another system, or out. */
export const moveRequest = z.strictObject({
  to: named.nullable().describe("a system's short name; null: it left or died"),
  how: z.enum(["moved", "left", "died"]),
  count: z.int().min(1).optional().describe("default: all of them"),
  at,
  note: note.optional(),
  confirm,
});
/** POST /residents/{stay}/stage. */
export const stageRequest = z.strictObject({
  stage,
  count: z.int().min(1).optional().describe("default: all of them"),
  at,
  note: note.optional(),
  confirm,
});
/** POST /residents/{stay}/correct: what is given replaces what stood there. */
export const correctStayRequest = z.strictObject({
  from: instantText.optional(),
  to: instantText.nullable().optional(),
  stage: stage.optional(),
  count: z.int().min(1).max(100_000).optional(),
  massKg,
  massSource,
  name: text.min(1).nullable().optional(),
  sex: z.enum(["female", "male"]).nullable().optional(),
  population: text.nullable().optional(),
  reason,
});
const pup = z.strictObject({
  name: text.min(1).nullable().optional().default(null),
  sex: z.enum(["female", "male"]).nullable().optional().default(null),
  sizeCm: z.number().positive().max(1_000).nullable().optional().default(null),
  sizeKind: z.enum(["disc width", "total length"]).optional().default("total length"),
  weightKg: z.number().positive().max(1_000).nullable().optional().default(null),
  yolk: z.enum(["none", "scar", "sac"]).nullable().optional().default(null),
  firstFeed: text.nullable().optional().default(null),
});
/** POST /systems/{system}/births. */
export const birthRequest = z.strictObject({
  species: code,
  mother: named.nullable().optional().describe("an animal's id; null: not known"),
  watch: named.nullable().optional().describe("the breeding watch this ends"),
  live: z.int().min(0).max(100_000),
  dead: z.int().min(0).max(100_000).optional().default(0),
  stage: stage.optional().default("pup or juvenile"),
  young: z.array(pup).max(200).optional().default([]),
  at,
  note: note.optional(),
  confirm,
});
/** POST /systems/{system}/compromises. */
export const compromiseRequest = z.strictObject({
  quantity: named,
  months: z.array(z.int().min(1).max(12)).min(1).max(12),
  low: z.number(),
  high: z.number(),
  actionLow: number.describe("null: a margin below low"),
  actionHigh: number.describe("null: a margin above high"),
  from: instantText.optional().describe("default: now"),
  reason,
});
/** POST /compromises/{compromise}/withdraw. */
export const withdrawCompromiseRequest = z.strictObject({
  from: instantText.optional().describe("default: now"),
  reason,
});
/** POST /systems/{system}/bands/confirm. */
export const confirmBandRequest = z.strictObject({
  quantity: named,
  from: instantText.optional().describe("default: now"),
  reason,
});
/** POST /systems/{system}/breeding-watches. */
export const openWatchRequest = z.strictObject({
  animal: named.describe("an animal's id"),
  kind: z.enum(["gestation", "incubation"]),
  first: instantText.nullable().describe("first day with a male, or of laying; null: not known"),
  last: instantText.nullable().describe("last day with a male, or of laying; null: not known"),
  mayDelay: z.boolean().optional().describe("default: as known of the species"),
  shortestDays: z.number().positive().max(2_000).optional().describe("default: as known of the species"),
  longestDays: z.number().positive().max(2_000).optional(),
  source: source.optional(),
});
/** POST /breeding-watches/{watch}/events. */
export const watchEventRequest = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("ultrasound"),
    at,
    embryos: z.int().min(0).max(500).nullable().optional().default(null),
    sizeCm: number,
    moving: z.boolean().nullable().optional().default(null),
    note: note.optional(),
  }),
  z.strictObject({
    kind: z.literal("laying"),
    at,
    eggs: z.int().min(0).max(100_000).nullable().optional().default(null),
    note: note.optional(),
  }),
  z.strictObject({
    kind: z.literal("pup pool"),
    at,
    system: named.describe("short name of the system kept ready for the young"),
    note: note.optional(),
  }),
  z.strictObject({ kind: z.literal("narrowed"), at, earliest: instantText, latest: instantText, reason }),
  z.strictObject({ kind: z.literal("outcome"), at, outcome: z.enum(OUTCOMES), note: note.optional() }),
]);

/** The same in one shape for the document: which fields belong to which kind is checked by the schema above. */
export const watchEventBody = z.looseObject({
  kind: z.enum(["ultrasound", "laying", "pup pool", "narrowed", "outcome"]),
  at,
  embryos: z.int().nullable().optional().describe("ultrasound"),
  sizeCm: z.number().nullable().optional().describe("ultrasound"),
  moving: z.boolean().nullable().optional().describe("ultrasound"),
  eggs: z.int().nullable().optional().describe("laying"),
  system: named.optional().describe("pup pool"),
  earliest: instantText.optional().describe("narrowed"),
  latest: instantText.optional().describe("narrowed"),
  outcome: z.enum(OUTCOMES).optional().describe("outcome"),
  reason: reason.optional().describe("narrowed"),
  note: note.optional(),
});

const edgeOrigin = z.object({
  value: z.number(),
  species: z.string(),
  speciesName: z.string(),
  stage,
  who: z.string().describe("in words"),
  kind: z.enum(ENTRY_KINDS),
  source: z.string(),
  mark: z.enum(MARKS),
  confidence: z.enum(CONFIDENCES),
});
const limitOrigin = z.object({ value: z.number(), says: z.string() });
export const compositeMonthView = z.object({
  month: z.int(),
  low: edgeOrigin.nullable(),
  high: edgeOrigin.nullable(),
  actionLow: limitOrigin.nullable(),
  actionHigh: limitOrigin.nullable(),
  gap: z.number().nullable().describe("size of the gap where the ranges do not overlap, in the unit"),
  compromise: z.string().nullable(),
  asked: bandEdges.nullable(),
  kept: bandEdges.nullable().describe("what is in force now"),
});
export type CompositeMonthView = z.infer<typeof compositeMonthView>;
const askedBand = z.object({
  quantity: z.string(),
  label: z.string(),
  unitLabel: z.string(),
  decimals: z.int(),
  point: z.string().nullable(),
  origin: z
    .enum(["person", "residents", "type"])
    .nullable()
    .describe("of the band in force; null if there is none"),
  confirmedBy: z.string().nullable(),
  asks: z.enum(["residents", "type"]),
  awaits: z.array(z.int()).describe("months in which what the residents need is not fully in force"),
  conflicts: z.array(z.int()).describe("months without a common range"),
  unknown: z.array(z.string()).describe("residents whose profile says nothing about it"),
  months: z.array(compositeMonthView).length(12),
});
export type AskedBand = z.infer<typeof askedBand>;
export const stayView = z.object({
  id: z.string(),
  animal: z.string(),
  species: z.string(),
  speciesName: z.string(),
  population: z.string().nullable(),
  name: z.string().nullable(),
  sex: z.enum(["female", "male"]).nullable(),
  stage,
  count: z.int(),
  massKg: z.number().nullable().optional().describe("of all of them together"),
  massSource: z.string().nullable().optional(),
  from: instant,
  to: instant.nullable(),
  ended: z.string().nullable(),
  hasProfile: z.boolean(),
});
export type StayView = z.infer<typeof stayView>;
const watchView = z.object({
  id: z.string(),
  animal: z.string(),
  who: z.string(),
  species: z.string(),
  kind: z.enum(["gestation", "incubation"]),
  first: instant.nullable(),
  last: instant.nullable(),
  shortestDays: z.number(),
  longestDays: z.number(),
  source: z.string(),
  earliest: instant.nullable(),
  latest: instant.nullable(),
  unbounded: z.string().nullable(),
  narrowed: z
    .object({ earliest: instant, latest: instant, by: z.string(), at: instant, reason: z.string() })
    .nullable(),
  stand: z.enum(["ended", "before", "in window", "overdue", "not bounded"]),
  spans: z
    .array(z.object({ from: instant, to: instant.nullable() }))
    .describe(
      "when it applies in this system: a gestation where its animal lives, eggs where they were laid",
    ),
  watched: z.boolean().describe("now, in this system: no set-point ramps and no planned catch-ups"),
  pool: pupPoolView.nullable().describe("the pool named for the young, as it is now; null if none is named"),
  outcome: z.string().nullable(),
  ended: instant.nullable(),
  events: z.array(
    z.object({ id: z.string(), kind: z.string(), at: instant, by: z.string(), says: z.string() }),
  ),
});
export type WatchView = z.infer<typeof watchView>;
/** GET /systems/{system}/residents. */
export const residentsView = z.object({
  now: instant,
  zone: z.string(),
  system: z.string(),
  name: z.string(),
  residents: z.array(stayView).describe("here now"),
  before: z.array(stayView).describe("stays that ended, newest first"),
  bands: z.array(askedBand),
  compromises: z.array(
    z.object({
      id: z.string(),
      quantity: z.string(),
      label: z.string(),
      months: z.array(z.int()),
      between: z.string(),
      low: z.number(),
      high: z.number(),
      reason: z.string(),
      signedBy: z.string(),
      signed: instant,
      from: instant,
      to: instant.nullable(),
    }),
  ),
  watches: z.array(watchView),
  species: z.array(speciesHead).describe("what may move in"),
  systems: z
    .array(z.object({ system: z.string(), name: z.string() }))
    .describe("where animals may be moved to"),
});
export type ResidentsView = z.infer<typeof residentsView>;

export const habitatAnswer = z.object({
  id: z.string().describe("id of what was written"),
  change: z.int().describe("number of its row in the audit trail"),
  received: instant,
});
export type HabitatAnswer = z.infer<typeof habitatAnswer>;
