/** Answers of the API beside the views that pages draw. Every number stands beside its unit; instants are UTC milliseconds. */
import * as z from "zod";
import { ANSWERS } from "#core/bench/answer.ts";
import { CALIBRATION_SCALES } from "#core/set-up/probe-basis.ts";
import { findingView } from "./views.ts";

const instant = z.number().int().describe("UTC milliseconds");
const number = z.number().nullable();

/** RFC 9457 problem details; `issues` names each field, what was sent there and what to send instead. */
export const problem = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number().int(),
  detail: z.string(),
  /** Where something broke: the line of the log to look for. */
  reference: z.string().optional(),
  issues: z
    .array(
      z.object({ field: z.string(), value: z.string().nullable(), says: z.string(), remedy: z.string() }),
    )
    .optional(),
});
export type Problem = z.infer<typeof problem>;

const position = z.object({ seq: z.number().int(), received: instant });

const backupRun = z.object({
  file: z.string(),
  bytes: z.number(),
  began: instant,
  finished: instant,
  trouble: z.string().nullable().describe("null if it was made and verified"),
  readings: z.number().nullable(),
  upTo: instant.nullable().describe("when the newest item in it was received"),
});

export const healthView = z.object({
  ok: z.boolean(),
  version: z.string(),
  schema: z.number().int(),
  detail: z
    .object({
      now: instant,
      dialect: z.enum(["sqlite", "postgres"]),
      where: z.string(),
      journal: position.nullable(),
      cursor: position.nullable(),
      behind: z
        .object({ entries: z.number().int(), ms: z.number() })
        .describe(
          "accepted but not evaluated yet: journal entries, and the milliseconds of receipt they span",
        ),
      rejudging: z
        .array(z.object({ system: z.string(), from: instant }))
        .describe("being evaluated again from this time to now"),
      counts: z.object({
        readings: z.number(),
        duplicates: z.number(),
        conflicts: z.number(),
        rejected: z.number(),
        unclaimed: z.number(),
      }),
    })
    .optional()
    .describe("only for callers who may read the rest"),
  upkeep: z
    .object({
      items: z
        .array(
          z.object({
            id: z.string(),
            label: z.string(),
            state: z.enum(["good", "look", "act", "unknown"]),
            says: z.string(),
            since: instant.nullable(),
            remedy: z.string().describe("what to do; empty if nothing needs doing"),
          }),
        )
        .describe("most serious first"),
      processes: z.array(
        z.object({
          name: z.string(),
          host: z.string(),
          pid: z.number().int(),
          started: instant,
          at: instant.describe("when it last reported"),
          memory: z.number().describe("bytes, resident"),
          waiting: z.number().nullable().describe("messages waiting to be stored"),
          lastCommitMs: z.number().nullable(),
          failedCommits: z.number().nullable(),
          trouble: z.string().nullable(),
        }),
      ),
      lease: z.object({ holder: z.string(), expires: instant }).nullable().describe("the evaluator's"),
      disk: z.object({ free: z.number(), total: z.number() }).nullable().describe("bytes"),
      databaseBytes: z.number().nullable().describe("null on a server"),
      backups: z
        .object({ last: backupRun.nullable(), good: backupRun.nullable() })
        .describe("the last attempt, and the last one that was verified"),
      senders: z
        .array(
          z.object({
            source: z.string(),
            skew: z.number().nullable().describe("ms its clock is behind ours, negative ahead"),
            clock: z.enum(["good", "M", "F"]).nullable(),
            missing: z
              .number()
              .int()
              .nullable()
              .describe("sequence numbers that never arrived; null if it sends none"),
          }),
        )
        .describe("over the last day"),
    })
    .optional()
    .describe("only for callers who may see the health of Homewater"),
});
export type HealthView = z.infer<typeof healthView>;

export const alarmView = z.object({
  id: z.string(),
  state: z.enum(["NORMAL", "UNACK", "ACK", "RTN_UNACK"]).describe("states of ISA-18.2 / IEC 62682"),
  severity: z.enum(["look", "action", "urgent"]),
  system: z.string(),
  systemName: z.string(),
  point: z.string(),
  quantity: z.string(),
  quantityLabel: z.string(),
  raised: instant,
  cleared: instant.nullable(),
  acknowledged: instant.nullable(),
  acknowledgedBy: z.string().nullable(),
  asks: z
    .enum(["acknowledgement", "response"])
    .nullable()
    .optional()
    .describe(
      "what it still asks for: past an action limit also a response in the logbook; null if it is answered; left out in handovers signed before it was told",
    ),
  finding: findingView.nullable().describe("null if the finding was superseded after the alarm was raised"),
});
export const alarmsView = z.object({ now: instant, zone: z.string(), alarms: z.array(alarmView) });
export type AlarmView = z.infer<typeof alarmView>;
export type AlarmsView = z.infer<typeof alarmsView>;

export const rejectedView = z.object({
  rejected: z
    .array(
      z.object({
        topic: z.string(),
        source: z.string(),
        reason: z.string(),
        sample: z
          .string()
          .describe("first bytes of the payload read as UTF-8; what is not UTF-8 is shown as �"),
        bytes: z.number().int().describe("length of the whole payload"),
        count: z.number().int(),
        firstSeen: instant,
        lastSeen: instant,
      }),
    )
    .describe("last seen first"),
});
export type RejectedView = z.infer<typeof rejectedView>;

export const unclaimedView = z.object({
  unclaimed: z
    .array(z.object({ topic: z.string(), count: z.number().int(), firstSeen: instant, lastSeen: instant }))
    .describe("last seen first; their readings are kept until somebody adopts or dismisses them"),
});
export type UnclaimedView = z.infer<typeof unclaimedView>;

/** A question to the person at the field; the result is stored whatever the answer. */
export const question = z.object({
  code: z.enum(["outside_plausible_span", "basis_assumed", "entered_late", "before_system_opened"]),
  field: z.string(),
  says: z.string(),
});
export type Question = z.infer<typeof question>;

export const ammoniaInput = z.object({
  quantity: z.string(),
  label: z.string(),
  value: z.number(),
  unitLabel: z.string(),
  at: instant.nullable().describe("null if it is a property of the water, not a measurement"),
  origin: z.enum(["this test", "probe", "bench", "fresh water"]),
});
export const ammoniaAnswer = z.object({
  value: number.describe("mg/L as N; null if it cannot be computed"),
  qualifier: z.enum(["=", "<", ">"]),
  low: number.describe("lower end of the interval"),
  high: number,
  unit: z.string(),
  unitLabel: z.string(),
  status: z.enum(["ok", "extrapolated", "invalid", "not known"]),
  says: z.string(),
  formula: z.string().nullable(),
  phScale: z.enum(CALIBRATION_SCALES).describe("nbs where the pH is of a bench meter in ordinary buffers"),
  inputs: z.array(ammoniaInput),
  missing: z.array(z.string()).describe("quantities that would be needed"),
});
export type AmmoniaAnswer = z.infer<typeof ammoniaAnswer>;

/** One result as stored; corrections and voids refer to it by id. */
export const benchResultView = z.object({
  id: z.string(),
  quantity: z.string(),
  label: z.string(),
  typed: z.string(),
  qualifier: z.enum(["=", "<", ">"]),
  unitTyped: z.string(),
  value: z.number().describe("in the registry's unit"),
  unit: z.string(),
  unitLabel: z.string(),
  method: z.string().nullable(),
  replicate: z.number().int(),
  supersedes: z.string().nullable().describe("id of the result this one corrects"),
  reason: z.string().nullable(),
  answer: z
    .enum(ANSWERS)
    .nullable()
    .describe("what the tester said to the question about it; null where nothing was asked"),
  asked: z.string().nullable().describe("the question as it was put"),
});

export const benchAnswer = z.object({
  id: z.string(),
  clientId: z.string(),
  repeated: z
    .boolean()
    .describe("this client id was stored before; nothing was written again, and this is what is stored"),
  received: instant,
  system: z.string(),
  point: z.string(),
  sampledAt: instant,
  enteredAt: instant,
  analyst: z.string(),
  note: z.string().nullable(),
  results: z.array(benchResultView),
  questions: z.array(question),
  unionisedAmmonia: ammoniaAnswer.nullable().describe("where the test has a total ammonia result"),
});
export type BenchAnswer = z.infer<typeof benchAnswer>;

/** What became of readings that were sent: durable when this is answered. */
export const readingsAnswer = z.object({
  outcome: z
    .enum(["accepted", "unclaimed"])
    .describe("unclaimed: a point that is not set up; its readings are kept until somebody adopts them"),
  stored: z.number().int(),
  duplicates: z.number().int().describe("already stored with the same value"),
  conflicts: z.number().int().describe("another value was stored for the same moment; the first one stands"),
  received: instant.nullable(),
});
export type ReadingsAnswer = z.infer<typeof readingsAnswer>;
