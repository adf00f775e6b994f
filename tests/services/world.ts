import type { Role } from "#core/people/index.ts";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import { DAY, HOUR, type Instant, MINUTE } from "#core/time/instant.ts";
import type { QuantityId } from "#core/units/index.ts";
import type { Actor, ReadDeps, WriteDeps } from "#services/deps.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import type {
  Alarm,
  BandEdges,
  Current,
  EvaluationPatch,
  Finding,
  RollupRow,
  Store,
  Stream,
  System,
  TargetBand,
} from "#store/port.ts";
import type { OpenStore } from "../helpers/each-store.ts";
import { temporaryStore } from "../helpers/open-store.ts";

/** 2026-03-02 06:30 in London, where clocks are at UTC then. */
export const NOW = Date.UTC(2026, 2, 2, 6, 30);
export const EVENING = Date.UTC(2026, 2, 1, 18);
export const ZONE = "Europe/London";
const OPENED = Date.UTC(2025, 0, 1);

export const BAND: BandEdges = {
  low: 24,
  high: 27,
  actionLow: 22,
  actionHigh: 29,
  urgentLow: 20,
  urgentHigh: 31,
};
/** Somebody who holds a role for everything. */
export const actorWith = (role: Role, name: string): Actor => ({
  id: `id-${name}`,
  name,
  kind: "person",
  grants: [{ role, site: null, system: null }],
  mustChange: false,
});
export const KEEPER: Actor = actorWith("technician", "keeper");
export const READER: Actor = actorWith("viewer", "reader");

export function system(code: string, more: Partial<System> = {}): System {
  return {
    id: `s-${code}`,
    site: "site-1",
    code,
    name: code.replace("-", " "),
    kind: "tropical marine",
    water: "marine",
    volume: 10,
    duty: null,
    opened: OPENED,
    closed: null,
    type: "exhibit",
    startingBands: "tropical marine",
    youngFilter: false,
    ...more,
  };
}

export function band(code: string, more: Partial<TargetBand> = {}): TargetBand {
  return {
    id: `b-${code}`,
    system: `s-${code}`,
    quantity: "temperature",
    point: null,
    months: [BAND],
    validFrom: OPENED,
    validTo: null,
    recordedAt: OPENED,
    setBy: "curator",
    reason: "for the residents",
    source: "a made-up source",
    ...more,
  };
}

export interface World {
  readonly store: Store;
  readonly read: ReadDeps;
  readonly write: WriteDeps;
  now: Instant;
  /** Streams by "system/point/quantity/origin". */
  stream(
    code: string,
    point: string,
    quantity: string,
    origin?: Stream["origin"],
    critical?: boolean,
  ): Promise<Stream>;
  /** One evaluation's results, as the evaluator would commit them. */
  evaluated(patch: Partial<EvaluationPatch>): Promise<void>;
  dispose(): Promise<void>;
}

/** A store with one site and these systems, each with a display and a sump; a clock that the test moves. */
export async function openWorld(
  systems: readonly System[],
  bands: readonly TargetBand[] = [],
  open: OpenStore = temporaryStore,
): Promise<World> {
  const temporary = await open();
  const { store } = temporary;
  const site = {
    id: "site-1",
    code: "harbour",
    name: "Harbour Hall",
    zone: ZONE,
    latitude: 51.5,
    longitude: 0,
    elevation: 5,
  };
  const points = systems.flatMap(({ id, code }) =>
    ["display", "sump"].map((point) => ({
      id: `p-${code}-${point}`,
      system: id,
      code: point,
      role: guessedRole(point),
      roleGuessed: false,
      twinOf: null,
    })),
  );
  await store.writeSetUp({ sites: [site], systems, points, bands }, [], OPENED);
  const clock = () => world.now;
  const setUp = createSetUpReader(store, clock);
  const lease = await store.acquireLease("evaluator", "test", NOW, 10 * DAY);
  if (!lease) throw new Error("the lease of a new store was not free");
  const world: World = {
    store,
    now: NOW,
    read: {
      store,
      clock,
      setUp,
      sweep: createSweepReader(store),
      ahead: createAheadReader(store),
      seesAll: true,
    },
    write: { store, clock, setUp, newId: uuidV7 },
    stream: (code, point, quantity, origin = "probe", critical = true) =>
      store.ensureStream(`p-${code}-${point}`, quantity, origin, { interval: 5 * MINUTE, critical }),
    async evaluated(patch) {
      const at = await store.readCursor();
      const whole: EvaluationPatch = {
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
        cursor: at,
        ...patch,
      };
      await store.commitEvaluation(whole, { seq: at.seq, lease, leaseName: "evaluator" });
    },
    dispose: () => temporary.dispose(),
  };
  return world;
}

export function current(stream: Stream, value: number, more: Partial<Current> = {}): Current {
  return {
    stream: stream.id,
    at: NOW - MINUTE,
    value,
    flag: 1,
    reasons: [],
    low: null,
    high: null,
    deviation: 0,
    band: BAND,
    rate: 0,
    received: NOW - MINUTE,
    silentAt: NOW + 10 * MINUTE,
    ...more,
  };
}

export function finding(stream: Stream, more: Partial<Finding> = {}): Finding {
  return {
    id: `${stream.id}/high`,
    system: stream.system,
    stream: stream.id,
    quantity: stream.quantity as QuantityId,
    kind: "out of band",
    rule: "high",
    severity: "look",
    began: NOW - 5 * HOUR,
    raised: NOW - 4 * HOUR,
    ended: null,
    evidence: { value: 27.9, worst: 28.1, worstAt: NOW - 2 * HOUR, edge: 27, limit: 29, deviation: 0.45 },
    late: false,
    ...more,
  };
}

export function alarm(of: Finding, more: Partial<Alarm> = {}): Alarm {
  return {
    id: `alarm-${of.id}`,
    finding: of.id,
    system: of.system,
    stream: of.stream,
    quantity: of.quantity,
    kind: of.kind,
    rule: of.rule,
    severity: of.severity,
    state: "UNACK",
    raised: of.raised,
    cleared: null,
    acknowledged: null,
    acknowledgedBy: null,
    ...more,
  };
}

export function rollup(
  stream: Stream,
  width: number,
  start: Instant,
  values: readonly number[],
  n = values.length,
): RollupRow {
  return {
    stream: stream.id,
    width,
    start,
    n,
    good: values.length,
    min: values.length > 0 ? Math.min(...values) : null,
    max: values.length > 0 ? Math.max(...values) : null,
    sum: values.reduce((sum, value) => sum + value, 0),
    first: values[0] ?? null,
    last: values.at(-1) ?? null,
  };
}
