import type { Acknowledgement } from "#core/alarms/acknowledgement.ts";
import type { NewAudit } from "#core/audit/audit.ts";
import type { ClockAhead } from "#core/gateway/clock-ahead.ts";
import type { ClockPlacement } from "#core/gateway/clock-book.ts";
import type { LogVersion } from "#core/logbook/entry.ts";
import type { NewHandover } from "#core/overnight/handover.ts";
import type { Person } from "#core/people/person.ts";
import type { CalibrationVoid, NewCalibration, NewCorrection } from "#core/probes/calibration.ts";
import type {
  Alarm,
  AlarmTransition,
  BenchVoid,
  Current,
  Finding,
  NewPlacementVoid,
  RollupRow,
} from "#store/port.ts";
import { T } from "./subject.ts";

/** Rows as an evaluator would write them; tests change the fields they are about. */
export const finding = (stream: number, change: Partial<Finding> = {}): Finding => ({
  id: `${stream}.out-of-band.high.${change.began ?? T}`,
  system: "system-kelp",
  stream,
  quantity: "temperature",
  kind: "out of band",
  rule: "high",
  severity: "look",
  began: T,
  raised: T + 60,
  ended: null,
  evidence: { worst: 14.5, edge: 14, note: "it's “high”" },
  late: false,
  ...change,
});

export const alarm = (stream: number, change: Partial<Alarm> = {}): Alarm => ({
  id: "alarm-1",
  finding: "finding-1",
  system: "system-kelp",
  stream,
  quantity: "temperature",
  kind: "out of band",
  rule: "high",
  severity: "action",
  state: "UNACK",
  raised: T,
  cleared: null,
  acknowledged: null,
  acknowledgedBy: null,
  ...change,
});

export const transition = (change: Partial<AlarmTransition> = {}): AlarmTransition => ({
  alarm: "alarm-1",
  from: "NORMAL",
  to: "UNACK",
  cause: "raised",
  value: 16.5,
  limit: 16,
  eventAt: T - 5,
  at: T,
  ...change,
});

export const current = (stream: number, change: Partial<Current> = {}): Current => ({
  stream,
  at: T,
  value: 12.5,
  flag: 1,
  reasons: [],
  low: null,
  high: null,
  deviation: 0,
  band: { low: 10, high: 14, actionLow: null, actionHigh: 16, urgentLow: null, urgentHigh: null },
  rate: -0.25,
  received: T + 3,
  silentAt: null,
  ...change,
});

export const rollup = (stream: number, start: number, change: Partial<RollupRow> = {}): RollupRow => ({
  stream,
  width: 900_000,
  start,
  n: 3,
  good: 2,
  min: 1,
  max: 3,
  sum: 4,
  first: 1,
  last: 3,
  ...change,
});

export const audit = (verb: string, change: Partial<NewAudit> = {}): NewAudit => ({
  at: T,
  actor: "Ada",
  actorId: "person-1",
  verb,
  subject: "thing:1",
  record: { b: 2, a: "“one”" },
  ...change,
});

export const acknowledgement = (
  change: Partial<Acknowledgement> = {},
): Omit<Acknowledgement, "received"> => ({
  id: "acknowledgement-1",
  clientId: "client-1",
  alarm: "alarm-1",
  by: "Ada",
  byId: "person-1",
  note: null,
  at: T,
  ...change,
});

export const benchVoid = (result: string, change: Partial<BenchVoid> = {}): Omit<BenchVoid, "received"> => ({
  id: `void-${result}`,
  clientId: `void-client-${result}`,
  result,
  by: "Ada",
  byId: "person-1",
  reason: "wrong tank",
  at: T,
  ...change,
});

export const logVersion = (change: Partial<LogVersion> = {}): LogVersion => ({
  id: "log-1",
  root: "log-1",
  clientId: "log-client-1",
  change: "first",
  supersedes: null,
  reason: null,
  kind: "backwash",
  systems: ["system-rays", "system-kelp"],
  point: null,
  quantity: null,
  at: T,
  until: null,
  open: true,
  expected: null,
  amount: 2.5,
  unit: "m3",
  item: null,
  animals: ["it's “Ada”"],
  text: "Two filters",
  alarm: null,
  by: "Ada",
  byId: "person-1",
  entered: T,
  ...change,
});

export const handover = (change: Partial<NewHandover> = {}): NewHandover => ({
  id: "handover-1",
  clientId: "handover-client-1",
  from: T - 10,
  to: T,
  signed: T,
  signedBy: "Ada",
  signedById: "person-1",
  passesTo: "Bo",
  unanswered: 1,
  note: "quiet",
  copy: '{"calm":[]}',
  ...change,
});

export const person = (change: Partial<Person> = {}): Person => ({
  id: "person-1",
  userName: "ada",
  name: "Ada",
  email: "ada@example.invalid",
  disabled: false,
  mustChange: true,
  oneTimeUntil: T + 100,
  created: T,
  lastSignIn: null,
  ...change,
});

export const calibration = (stream: number, change: Partial<NewCalibration> = {}): NewCalibration => ({
  id: "calibration-1",
  clientId: "calibration-client-1",
  stream,
  kind: "calibration",
  from: T - 600_000,
  at: T,
  before: 8.31,
  after: 8.27,
  moved: null,
  standards: [
    { value: 7, read: 7.05 },
    { value: 10, read: 10.2 },
  ],
  slope: 96.5,
  offset: null,
  item: "lot 12",
  note: "",
  by: "Ada",
  byId: "person-1",
  entered: T + 60_000,
  ...change,
});

export const correctionOf = (stream: number, change: Partial<NewCorrection> = {}): NewCorrection => ({
  id: "correction-1",
  calibration: "calibration-1",
  stream,
  from: T - 86_400_000,
  to: T - 600_000,
  fouling: -0.04,
  standards: [{ value: 7, read: 7.05 }],
  by: "Ada",
  byId: "person-1",
  reason: "past the criterion",
  ...change,
});

export const calibrationVoid = (
  change: Partial<CalibrationVoid> = {},
): Omit<CalibrationVoid, "received"> => ({
  id: "calibration-void-1",
  clientId: "calibration-void-client-1",
  calibration: "calibration-1",
  by: "Ada",
  byId: "person-1",
  reason: "another probe",
  at: T + 120_000,
  ...change,
});

export const clockAhead = (stream: number, change: Partial<ClockAhead> = {}): ClockAhead => ({
  ...{ id: "clock-1", clock: "clock-1", source: 1, stream, since: T, until: null },
  ...{ offset: 2_840_000, uncertainty: 300_000 },
  ...change,
});
export const placement = (change: Partial<ClockPlacement> = {}): Omit<ClockPlacement, "received"> => ({
  ...{ id: "placement-1", clientId: "placement-client-1", clock: "clock-1", offset: 2_840_000 },
  ...{ by: "Ada", byId: "person-1" },
  ...change,
});
export const placementVoid = (): NewPlacementVoid => ({
  ...{ id: "placement-void-1", clientId: "placement-void-client-1", placement: "placement-1" },
  ...{ by: "Ada", byId: "person-1", reason: "taken back", at: T },
});
