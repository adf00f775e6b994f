/** Changing what is set up: bands, systems, points, streams; every change can be read again and most can be undone. */
import * as z from "zod";
import { REFERENCE_ELECTRODES } from "#core/chemistry/redox.ts";
import { STARTING_BANDS } from "#core/habitat/index.ts";
import { POINT_ROLE_IDS } from "#core/set-up/point-role.ts";
import { CALIBRATION_SCALES } from "#core/set-up/probe-basis.ts";
import { SYSTEM_TYPE_IDS } from "#core/set-up/system-type.ts";
import { instantText } from "./api.ts";
import { instant, named, reason } from "./places.ts";
import { bandEdges } from "./views.ts";

const edge = z.number().nullable();
const edges = z.strictObject({
  low: edge,
  high: edge,
  actionLow: edge,
  actionHigh: edge,
  urgentLow: edge,
  urgentHigh: edge,
});

/** POST /systems/{system}/bands: a new version; the one before stays readable. */
export const changeBandRequest = z.strictObject({
  quantity: named,
  point: named.nullable().optional().describe("null or omitted: every point without a band of its own"),
  months: z
    .union([z.array(edges).length(1), z.array(edges).length(12)])
    .describe(
      "one for the whole year, or twelve that apply in the middle of each month; in the quantity's unit",
    ),
  validFrom: instantText.optional().describe("default: now; readings since then are evaluated again"),
  reason,
  source: z
    .string()
    .trim()
    .min(3)
    .max(300)
    .describe("where the numbers come from: a paper, a handbook, a person"),
});
/** GET /systems/{system}/bands. */
export const bandView = z.object({
  id: z.string(),
  quantity: z.string(),
  quantityLabel: z.string(),
  unit: z.string(),
  unitLabel: z.string(),
  decimals: z.number().int(),
  point: z.string().nullable(),
  months: z.array(bandEdges),
  validFrom: instant,
  validTo: instant.nullable(),
  recorded: instant,
  setBy: z.string(),
  reason: z.string(),
  source: z.string(),
  inForce: z.boolean().describe("now"),
});
export type BandView = z.infer<typeof bandView>;
export const bandsView = z.object({
  now: instant,
  zone: z.string(),
  system: z.string(),
  name: z.string(),
  bands: z.array(bandView).describe("in force first, then by quantity and newest first"),
});
export type BandsView = z.infer<typeof bandsView>;

const systemFields = {
  name: z.string().trim().min(2).max(80),
  kind: z.string().trim().min(2).max(80).describe("what people call it, in plain words; has no effect"),
  type: z.enum(SYSTEM_TYPE_IDS).describe("what it is used for"),
  startingBands: z
    .enum(STARTING_BANDS)
    .nullable()
    .describe("bands for quantities that no resident's profile covers; null: none"),
  water: z.enum(["fresh", "brackish", "marine"]),
  volume: z.number().positive().max(1_000_000).describe("m3"),
  duty: z.number().positive().max(1_000_000).nullable().describe("duty flow, m3/h; null if not known"),
  youngFilter: z.boolean().describe("total ammonia results are carried 24 h instead of 7 days"),
};
const code = z
  .string()
  .min(2)
  .max(40)
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, "small letters, digits and single dashes, as in kelp-gallery");

const role = z.enum(POINT_ROLE_IDS).describe("what the point is for");

/** POST /systems. */
export const addSystemRequest = z.strictObject({
  site: named.describe("a site's short name"),
  code: code.describe("short name, unique over all sites; used in topics"),
  ...systemFields,
  startingBands: systemFields.startingBands.optional(),
  duty: systemFields.duty.optional(),
  youngFilter: systemFields.youngFilter.optional().describe("default: as its type has it"),
  opened: instantText.optional().describe("default: now"),
  points: z
    .array(z.union([code, z.strictObject({ code, role: role.optional() })]))
    .max(50)
    .optional()
    .describe("default: one exhibit called display; a missing role is guessed from the name"),
  reason: reason.optional(),
});
/** POST /systems/{system}: what is given replaces what was. */
export const changeSystemRequest = z.strictObject({
  ...z.strictObject(systemFields).partial().shape,
  closed: instantText.nullable().optional().describe("when it was closed; null: it is open again"),
  reason,
});
/** POST /systems/{system}/points. */
export const addPointRequest = z.strictObject({
  code: code.describe("short name of a place in the system"),
  role: role.optional().describe("default: guessed from the name, and shown as a guess"),
  twinOf: named.nullable().optional().describe("the point whose probe this one duplicates"),
});
/** POST /systems/{system}/points/{point}. */
export const changePointRequest = z.strictObject({
  role,
  from: instantText.optional().describe("readings since then are evaluated again; default: from now on"),
  reason,
});
/** POST /streams/{stream}. */
export const changeStreamRequest = z.strictObject({
  intervalSeconds: z
    .int()
    .min(1)
    .max(31_622_400)
    .nullable()
    .optional()
    .describe("expected time between readings; null: no schedule, so never reported silent"),
  critical: z.boolean().optional().describe("while this stream is not known, the system is not known"),
  phScale: z
    .enum(CALIBRATION_SCALES)
    .optional()
    .describe("for a pH probe: nbs if it was calibrated in ordinary buffers, total if in tris in sea water"),
  phOffset: z
    .number()
    .min(-1)
    .max(1)
    .optional()
    .describe("for a pH probe: what to add to a reading, in pH, as found against a buffer"),
  electrode: z.enum(REFERENCE_ELECTRODES).optional().describe("for an ORP probe: its reference electrode"),
  basisFrom: instantText
    .optional()
    .describe(
      "from when scale, offset or electrode apply; default: now. Readings since then are evaluated again",
    ),
  reason,
});
export type ChangeStreamRequest = z.infer<typeof changeStreamRequest>;
/** POST /changes/{change}/undo: writes what was before as a new version. Refused where something else has changed it since. */
export const undoRequest = z.strictObject({ reason });

/** What every change of set-up answers. */
export const changeAnswer = z.object({
  change: z.number().int().describe("number of its row in the audit trail"),
  undoable: z.boolean(),
  subject: z.string().describe("band:<id>, system:<short name>, point:<id> or stream:<number>"),
  received: instant,
});
export type ChangeAnswer = z.infer<typeof changeAnswer>;

/** GET /systems/{system}/set-up. */
export const systemSetUpView = z.object({
  system: z.string(),
  site: z.string(),
  siteName: z.string(),
  zone: z.string(),
  name: z.string(),
  kind: z.string(),
  type: z.enum(SYSTEM_TYPE_IDS),
  startingBands: z.enum(STARTING_BANDS).nullable(),
  water: z.enum(["fresh", "brackish", "marine"]),
  volume: z.number(),
  duty: z.number().nullable(),
  youngFilter: z.boolean(),
  opened: instant,
  closed: instant.nullable(),
  loops: z.array(z.object({ code: z.string(), name: z.string() })),
  points: z.array(
    z.object({
      id: z.string(),
      code: z.string(),
      role: z.enum(POINT_ROLE_IDS),
      roleGuessed: z.boolean().describe("nobody has chosen the role: it was guessed from the name"),
      twinOf: z.string().nullable(),
    }),
  ),
  streams: z.array(
    z.object({
      stream: z.number().int(),
      point: z.string(),
      quantity: z.string(),
      label: z.string(),
      unitLabel: z.string(),
      origin: z.enum(["probe", "bench", "equipment", "derived"]),
      intervalSeconds: z.number().nullable(),
      critical: z.boolean(),
      basis: z
        .array(
          z.object({
            from: instant.nullable().describe("null: from the beginning, because nobody has said otherwise"),
            phScale: z.enum(CALIBRATION_SCALES),
            phOffset: z.number(),
            electrode: z.enum(REFERENCE_ELECTRODES),
            words: z.string(),
          }),
        )
        .describe(
          "scale, offset and electrode of a pH or ORP probe over time, oldest first; empty for everything else",
        ),
    }),
  ),
});
export type SystemSetUpView = z.infer<typeof systemSetUpView>;
