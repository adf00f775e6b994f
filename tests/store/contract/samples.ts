import type { Alarm, AlarmTransition, Current, Finding, RollupRow } from "../../../lib/store/port.ts";
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
