/** Probes: what is done to them, and how far they can be believed. */
import * as z from "zod";
import { CALIBRATION_KINDS } from "#core/probes/calibration.ts";
import { HEALTH_LETTERS } from "#core/probes/health.ts";
import { instantText } from "./api.ts";
import { clientId, instant, note, reason } from "./places.ts";

const kind = z.enum(CALIBRATION_KINDS);
const value = z.number();
const standard = z.strictObject({
  value: value.describe("certified value of the buffer or standard, in the stream's unit"),
  read: value.describe("what the probe read in it before it was adjusted"),
});

/** POST /streams/{stream}/calibrations. Numbers in the stream's unit. */
export const calibrationRequest = z.strictObject({
  clientId,
  kind,
  from: instantText.optional().describe("when it was taken out; default: the same as `at`"),
  at: instantText.describe("when it was back in the water"),
  before: value.optional().describe("in the tank's water before cleaning"),
  after: value.optional().describe("in the same water after cleaning"),
  moved: value.optional().describe("how much that water changed in between, by another instrument"),
  standards: z.array(standard).max(3).optional(),
  slope: value.min(0).max(120).optional().describe("pH electrode, percent"),
  offset: value.min(-500).max(500).optional().describe("pH electrode, mV at pH 7"),
  item: z.string().trim().max(200).optional().describe("serial number or buffer lot"),
  note: note.optional(),
  correct: z
    .boolean()
    .optional()
    .describe(
      "true: store a correction of the readings since the previous visit; raw readings stay as they are",
    ),
});
/** POST /calibrations/{calibration}/void. */
export const voidCalibrationRequest = z.strictObject({ clientId, reason });

const correctionView = z.object({
  from: instant,
  to: instant,
  error: value.describe("found at the second visit: true minus shown, in the stream's unit"),
  by: z.string(),
  reason: z.string(),
});
export const calibrationView = z.object({
  id: z.string(),
  stream: z.int(),
  kind,
  kindLabel: z.string(),
  from: instant,
  at: instant,
  before: value.nullable(),
  after: value.nullable(),
  moved: value.nullable(),
  standards: z.array(standard),
  slope: value.nullable(),
  offset: value.nullable(),
  item: z.string().nullable(),
  note: z.string(),
  by: z.string(),
  entered: instant,
  error: z
    .object({ fouling: value, drift: value, total: value })
    .nullable()
    .describe("what the visit found: true minus shown, in the stream's unit"),
  worst: z
    .object({ standard: value.nullable().describe("null: in the water itself"), error: value })
    .nullable()
    .describe("where the probe was furthest off"),
  line: z
    .object({
      slope: value.describe("percent of the true one"),
      offset: value.describe("shown too much in the lowest standard"),
    })
    .nullable()
    .describe("through the lowest and the highest standard, as read before adjusting"),
  grade: z
    .enum(["excellent", "good", "fair", "poor"])
    .nullable()
    .describe("of the record after correction, by the worst point"),
  correction: correctionView.nullable(),
  voided: z.object({ by: z.string(), at: instant, reason: z.string() }).nullable(),
});
export type CalibrationView = z.infer<typeof calibrationView>;
export const calibrationAnswer = z.object({ calibration: calibrationView, repeated: z.boolean() });
export type CalibrationAnswer = z.infer<typeof calibrationAnswer>;

export const probeRow = z.object({
  stream: z.int(),
  system: z.string(),
  systemName: z.string(),
  point: z.string(),
  quantity: z.string(),
  label: z.string(),
  unitLabel: z.string(),
  decimals: z.int(),
  twin: z.string().nullable().describe("the point of its twin"),
  letter: z.enum(HEALTH_LETTERS).describe("NAMUR NE 107: F, C, S, M, or good"),
  word: z.string(),
  why: z.string(),
  value: value.nullable(),
  at: instant.nullable(),
  delay: z.number().nullable().describe("milliseconds from its own time to ours, of the newest reading"),
  last: z.object({ kind, kindLabel: z.string(), at: instant, by: z.string() }).nullable(),
  due: instant.nullable(),
  expected: z.boolean().describe("calibrations are expected of probes of this quantity"),
});
export type ProbeRow = z.infer<typeof probeRow>;
/** GET /probes. */
export const probesView = z.object({
  now: instant,
  zone: z.string(),
  probes: z.array(probeRow).describe("most serious first, then in set-up order"),
  counts: z.record(z.enum(HEALTH_LETTERS), z.int()),
  unclaimed: z.int().nullable().describe("number of unclaimed topics; null if the caller may not see them"),
});
export type ProbesView = z.infer<typeof probesView>;

/** GET /streams/{stream}/probe. */
export const probeView = probeRow.extend({
  now: instant,
  zone: z.string(),
  calibrations: z.array(calibrationView).describe("newest first, void ones too"),
  pairs: z
    .array(
      z.object({
        at: instant,
        probe: value.describe("median of 10 minutes before to 10 after"),
        bench: value,
        difference: value.describe("probe minus bench, percent for conductivity"),
        ewma: value.nullable(),
        limit: value.nullable(),
      }),
    )
    .describe("oldest first; the EWMA counts from the last calibration"),
  differenceUnit: z.string(),
  agreement: z
    .object({
      n: z.int(),
      bias: value,
      biasLow: value,
      biasHigh: value,
      sd: value,
      low: value,
      high: value,
    })
    .nullable()
    .describe("Bland & Altman, of the pairs since the last calibration, in the stream's unit"),
  regression: z
    .object({ slope: value, intercept: value })
    .nullable()
    .describe("Deming; null if the bench did not range widely enough to tell a slope"),
  drifting: z.boolean(),
  perMonth: value.nullable().describe("drift in 30 days, in the difference's unit"),
  says: z.string().describe("what these tests can see"),
  twinDays: z.array(z.object({ at: instant, difference: value })),
  twinMoved: instant.nullable(),
  twinSays: z.string(),
  steps: z.array(z.object({ at: instant, by: value, says: z.string() })).describe("was it calibrated?"),
});
export type ProbeView = z.infer<typeof probeView>;
