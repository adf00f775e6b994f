import { afterEach, beforeEach } from "vitest";
import type { AppendOutcome, EvaluationPatch, NewBenchTest, NewReading, SetUp, Store } from "#store/port.ts";

/** A store under test on an empty database of its own. */
export interface Subject {
  readonly store: Store;
  /** The same database opened again, as a second process would. */
  another(): Promise<Store>;
  dispose(): Promise<void>;
}
export type OpenSubject = () => Promise<Subject>;

/** 2025-11-01T00:00:00Z. */
export const T = Date.UTC(2025, 10, 1);

export const SET_UP = {
  sites: [
    {
      id: "site-1",
      code: "harbour",
      name: "Harbour house",
      zone: "Europe/Berlin",
      latitude: 53.5,
      longitude: 9.9,
      elevation: 6,
    },
  ],
  systems: ["kelp", "rays"].map((code) => ({
    id: `system-${code}`,
    site: "site-1",
    code,
    name: code,
    kind: "temperate marine",
    water: "marine" as const,
    volume: 120.5,
    duty: code === "kelp" ? 90 : null,
    opened: T - 1_000,
    closed: null,
    type: code === "rays" ? ("quarantine" as const) : ("exhibit" as const),
    startingBands: "temperate marine" as const,
    youngFilter: code === "rays",
  })),
  points: [
    {
      id: "point-kelp",
      system: "system-kelp",
      code: "display",
      role: "exhibit",
      roleGuessed: false,
      twinOf: null,
    },
    {
      id: "point-rays",
      system: "system-rays",
      code: "display",
      role: "exhibit",
      roleGuessed: false,
      twinOf: null,
    },
  ],
} satisfies Partial<SetUp>;

export interface Parts {
  readonly store: Store;
  readonly temperature: number;
  readonly ph: number;
  readonly bench: number;
  readonly derived: number;
  readonly source: number;
  reading(at: number, value: number, change?: Partial<NewReading>): NewReading;
  append(readings: readonly NewReading[], now?: number): Promise<AppendOutcome>;
}

/** The set-up above with four streams and a source. */
export async function withParts(store: Store): Promise<Parts> {
  await store.writeSetUp(SET_UP, [], T);
  const temperature = (await store.ensureStream("point-kelp", "temperature", "probe")).id;
  const ph = (await store.ensureStream("point-kelp", "ph", "probe")).id;
  const bench = (await store.ensureStream("point-kelp", "nitrate", "bench")).id;
  const derived = (await store.ensureStream("point-kelp", "unionised_ammonia", "derived")).id;
  const source = (await store.ensureSource("gateway-1", "gateway")).id;
  return {
    store,
    temperature,
    ph,
    bench,
    derived,
    source,
    reading: (at, value, change = {}) => ({
      stream: temperature,
      at,
      value,
      source,
      sequence: null,
      mark: null,
      ...change,
    }),
    append: (readings, now = T) => store.append({ now, readings, rejected: [], unclaimed: [] }),
  };
}

export const EMPTY_PATCH: EvaluationPatch = {
  replace: [],
  flags: [],
  derived: [],
  rollups: [],
  findings: [],
  alarms: [],
  transitions: [],
  current: [],
  checkpoints: [],
  dropCheckpoints: [],
  streamsWithoutCurrent: [],
  rejudge: [],
  rejudged: [],
  cursor: { seq: 0, received: 0 },
};

/** A function that commits patches one after another, each at the next cursor position. */
export async function evaluator(store: Store): Promise<(patch: Partial<EvaluationPatch>) => Promise<void>> {
  const lease = await store.acquireLease("evaluator", "test", T, 60_000);
  if (lease === null) throw new Error("the lease is taken");
  let { seq } = await store.readCursor();
  return async (patch) => {
    const cursor = patch.cursor ?? { seq: seq + 1, received: T + seq + 1 };
    await store.commitEvaluation(
      { ...EMPTY_PATCH, ...patch, cursor },
      { seq, lease, leaseName: "evaluator" },
    );
    seq = cursor.seq;
  };
}

export function benchTest(stream: number, change: Partial<NewBenchTest> = {}): NewBenchTest {
  return {
    id: "test-1",
    clientId: "client-1",
    system: "system-kelp",
    point: "point-kelp",
    sampledAt: T + 1_000,
    enteredAt: T + 2_000,
    analyst: "Ada",
    note: null,
    results: [
      {
        id: "result-1",
        stream,
        quantity: "nitrate",
        typed: "8.10",
        qualifier: "=",
        unitTyped: "mg/L",
        value: 8.1,
        method: "cadmium reduction",
        replicate: 1,
        supersedes: null,
        reason: null,
        answer: null,
        asked: null,
      },
    ],
    ...change,
  };
}

/** A correction of `result` by `id`, in a test of its own. */
export function correction(stream: number, id: string, result: string, value: number): NewBenchTest {
  const [first] = benchTest(stream).results;
  if (first === undefined) throw new Error("the sample test has no result");
  return benchTest(stream, {
    id: `test-${id}`,
    clientId: `client-${id}`,
    results: [{ ...first, id, typed: String(value), value, supersedes: result, reason: "misread" }],
  });
}

/** A fresh subject for every test of the enclosing block. */
export function eachWith(open: OpenSubject): () => Subject {
  let subject: Subject | null = null;
  beforeEach(async () => {
    subject = await open();
  });
  afterEach(async () => {
    await subject?.dispose();
    subject = null;
  });
  return () => {
    if (subject === null) throw new Error("no subject outside a test");
    return subject;
  };
}
