/** An invented morning to show parts with: every state a part can be in. Fixed, so that a picture of it can be compared. */
import type { FindingView, SeriesView, StreamState, SystemState } from "#contract/views.ts";

/** 2026-10-29 07:12 UTC. */
export const NOW = Date.UTC(2026, 9, 29, 7, 12);
export const HOUR = 3_600_000;

const edges = (
  low: number | null,
  high: number | null,
  actionLow: number | null,
  actionHigh: number | null,
) => ({
  low,
  high,
  actionLow,
  actionHigh,
  urgentLow: null,
  urgentHigh: null,
});

const TEMPERATURE: StreamState = {
  stream: 1,
  point: "display",
  role: "exhibit",
  quantity: "temperature",
  label: "Temperature",
  unit: "Cel",
  unitLabel: "°C",
  decimals: 1,
  origin: "probe",
  critical: true,
  at: NOW - 120_000,
  value: 15.6,
  low: null,
  high: null,
  word: null,
  flag: 1,
  reasons: [],
  received: NOW - 119_000,
  silent: false,
  deviation: 0,
  band: edges(14.4, 16.2, 12, 18),
  bandSource: "invented",
  rate: 0,
  plan: null,
  sweepLow: 15.3,
  sweepHigh: 15.7,
  standing: "calm",
};
const one = (stream: number, given: Partial<StreamState>): StreamState => ({
  ...TEMPERATURE,
  stream,
  ...given,
});

/** Each state of a strip, with the word for it. */
export const STRIPS: readonly (readonly [string, StreamState])[] = [
  ["in band", one(1, {})],
  ["in band, rising", one(2, { value: 15.9, rate: 0.3 })],
  ["on its plan", one(3, { plan: 15.4 })],
  ["needs a look", one(4, { value: 16.9, deviation: 0.4, standing: "look", sweepHigh: 16.9, rate: 0.2 })],
  ["needs action", one(5, { value: 18.4, deviation: 1.2, standing: "action", sweepHigh: 18.4, rate: 0.4 })],
  ["far past its limit", one(6, { value: 24, deviation: 4.3, standing: "action", sweepHigh: 24 })],
  ["below", one(7, { value: 11.7, deviation: -1.1, standing: "action", sweepLow: 11.7 })],
  [
    "probe suspect",
    one(8, { flag: 3, reasons: ["out_of_plausible_span"], standing: "unknown", deviation: null }),
  ],
  [
    "not known",
    one(9, { value: null, at: null, standing: "unknown", deviation: null, sweepLow: null, sweepHigh: null }),
  ],
  ["no limit above", one(10, { band: edges(14.4, 16.2, 12, null) })],
  [
    "one edge above",
    one(11, {
      quantity: "unionised_ammonia",
      label: "Un-ionised ammonia",
      unitLabel: "mg/L as N",
      decimals: 3,
      value: 0.003,
      band: edges(null, 0.01, null, 0.02),
      sweepLow: 0.002,
      sweepHigh: 0.004,
    }),
  ],
  [
    "one edge below",
    one(12, {
      quantity: "flow",
      label: "Flow",
      unitLabel: "m³/h",
      value: 66,
      band: edges(60, null, 40, null),
      sweepLow: 64,
      sweepHigh: 67,
    }),
  ],
];

const PH = {
  quantity: "ph",
  label: "pH",
  unit: "[pH]",
  unitLabel: "",
  decimals: 2,
  band: edges(7.9, 8.2, 7.7, 8.4),
  sweepLow: 7.95,
  sweepHigh: 8.1,
};

export const FINDINGS: readonly FindingView[] = (["action", "look"] as const).map((severity, i) => ({
  id: `f${i}`,
  system: "jelly-ring",
  systemName: "Jelly Ring",
  point: "display",
  quantity: "temperature",
  quantityLabel: "Temperature",
  unitLabel: "°C",
  decimals: 1,
  kind: i === 0 ? "out of band" : "too fast",
  rule: "high",
  severity,
  began: NOW - 5 * HOUR,
  raised: NOW - 4 * HOUR,
  ended: null,
  late: false,
  says:
    i === 0
      ? "Temperature 18.4 °C, past its action limit (18.0) since 06:10"
      : "Temperature rising 0.40 °C an hour since 05:20",
  evidence: {},
  alarm:
    i === 0
      ? {
          id: "a0",
          state: "UNACK",
          raised: NOW - HOUR,
          cleared: null,
          acknowledged: null,
          acknowledgedBy: null,
        }
      : null,
}));

const system = (
  code: string,
  name: string,
  standing: SystemState["standing"],
  streams: StreamState[],
  findings: FindingView[] = [],
): SystemState => ({
  system: code,
  name,
  site: "north",
  kind: "temperate marine",
  type: "exhibit",
  water: "marine",
  volume: 210,
  loops: ["chilled-water"],
  residents: [],
  standing,
  worst: streams.reduce((worst, s) => Math.max(worst, Math.abs(s.deviation ?? 0)), 0),
  streams,
  findings,
});
const pump = (stream: number, point: string, word: string, standing: StreamState["standing"]): StreamState =>
  one(stream, {
    point,
    quantity: "pump",
    label: "Pump",
    unit: "",
    unitLabel: "",
    decimals: 0,
    origin: "equipment",
    value: 0,
    word,
    standing,
    band: null,
    deviation: null,
  });

export const SYSTEMS: readonly SystemState[] = [
  system(
    "jelly-ring",
    "Jelly Ring",
    "action",
    [
      one(21, { value: 18.4, deviation: 1.2, standing: "action", sweepHigh: 18.4 }),
      one(22, { ...PH, value: 8.02 }),
      pump(23, "pump-1", "running", "calm"),
      pump(24, "pump-2", "tripped", "action"),
    ],
    [...FINDINGS],
  ),
  system("reef-lagoon", "Reef Lagoon with a name that is rather long", "look", [
    one(31, { value: 16.9, deviation: 0.4, standing: "look", sweepHigh: 16.9 }),
    one(32, { ...PH, value: 8.1 }),
  ]),
  system("rift-terrace", "Rift Terrace", "unknown", [
    one(41, { at: NOW - 11 * HOUR, silent: true, standing: "unknown", deviation: null }),
    one(42, {
      ...PH,
      value: 7.93,
      flag: 3,
      standing: "unknown",
      deviation: null,
      reasons: ["possible_repeat"],
    }),
  ]),
  system("kelp-gallery", "Kelp Gallery", "calm", [one(51, {}), one(52, { ...PH, value: 8.05 })]),
];

const at = Array.from({ length: 144 }, (_, i) => NOW - ((144 - i) * HOUR) / 2).filter(
  (t) => t < NOW - 40 * HOUR || t > NOW - 36 * HOUR,
);
const day = (t: number) => Math.sin(((t % (24 * HOUR)) / (24 * HOUR)) * 2 * Math.PI);
const wave = (base: number, size: number) =>
  at.map((t) => base + size * day(t) + Math.max(0, (t - NOW + 8 * HOUR) / (8 * HOUR)) * 2.4);
const columns = (mean: number[], flag = mean.map(() => 1)): SeriesView["columns"] => ({
  at,
  min: mean,
  mean,
  max: mean,
  n: mean.map(() => 1),
  flag,
});

/** Three days of a probe: a gap, readings set aside, and a rise past the action limit. */
export const SERIES: SeriesView = {
  system: "jelly-ring",
  point: "display",
  quantity: "temperature",
  label: "Temperature",
  unit: "Cel",
  unitLabel: "°C",
  decimals: 1,
  origin: "probe",
  resolution: "raw",
  step: null,
  from: NOW - 72 * HOUR,
  to: NOW,
  columns: columns(
    wave(15.6, 0.4),
    at.map((_, i) => (i > 60 && i < 66 ? 3 : 1)),
  ),
  flagged: at.slice(61, 66).map((t) => ({ at: t, flag: 3, reasons: ["possible_repeat"] })),
  next: null,
  bands: [{ from: NOW - 72 * HOUR, to: NOW, edges: edges(14.4, 16.2, 12, 18) }],
};
export const OTHER: SeriesView = {
  ...SERIES,
  columns: columns(at.map((t) => 15 + 0.3 * day(t + 6 * HOUR))),
  flagged: [],
};
const tests = [NOW - 60 * HOUR, NOW - 30 * HOUR, NOW - 6 * HOUR];
export const BENCH: SeriesView = {
  ...SERIES,
  origin: "bench",
  columns: {
    at: tests,
    min: [15.5, 15.9, 15.7],
    mean: [15.5, 15.9, 15.7],
    max: [15.5, 15.9, 15.7],
    n: [1, 1, 1],
    flag: [2, 2, 2],
    qualifier: ["=", "<", "="],
  },
};
export const MARKS = [
  { id: "m1", at: NOW - 50 * HOUR, label: "Feed", says: "Feed (day keeper)", systems: ["jelly-ring"] },
  {
    id: "m2",
    at: NOW - 20 * HOUR,
    label: "Water change 8 %",
    says: "Water change 8 % (day keeper)",
    systems: ["jelly-ring"],
  },
];
export const BARS = [
  {
    id: "w1",
    from: NOW - 60 * HOUR,
    to: NOW - 14 * HOUR,
    isOver: false,
    label: "Tuppence: birth expected",
    says: "Tuppence, birth: in its window",
  },
  {
    id: "w1/over",
    from: NOW - 14 * HOUR,
    to: Number.POSITIVE_INFINITY,
    isOver: true,
    label: "Tuppence: birth overdue",
    says: "Tuppence, birth: overdue",
  },
];
