/** Which streams are computed from which: worked out from what a system measures, so that nobody has to set it up. */
import { nearestFirst, type PointRole, pointRole } from "../set-up/point-role.ts";
import type { ProbeBasis } from "../set-up/probe-basis.ts";
import { DAY, HOUR, MINUTE } from "../time/instant.ts";
import type { QuantityId } from "../units/quantity.ts";
import type { EvaluatorFacts, StreamFacts } from "./facts.ts";

export type DerivedFormula =
  | "salinity"
  | "specific_conductance"
  | "oxygen_saturation"
  | "unionised_ammonia"
  | "pco2"
  | "aragonite_saturation"
  | "calcite_saturation"
  | "redox_eh"
  | "osmolality"
  | "density"
  | "specific_gravity"
  | "total_gas_pressure";

/** What a formula looks for beside the reading that sets it off. */
export type InputRole =
  | "temperature"
  | "salinity"
  | "ammonia"
  | "alkalinity"
  | "calcium"
  | "pressure"
  | "oxygen";

export const QUANTITY_OF_ROLE: Readonly<Record<InputRole, QuantityId>> = {
  temperature: "temperature",
  salinity: "salinity",
  ammonia: "total_ammonia",
  alkalinity: "alkalinity",
  calcium: "calcium",
  pressure: "barometric_pressure",
  oxygen: "dissolved_oxygen",
};

interface RequiredInputs {
  /** Without these there is no result. */
  readonly needs: readonly InputRole[];
  /** These are used where they are known. */
  readonly takes: readonly InputRole[];
}
const CARBONATE: RequiredInputs = { needs: ["temperature", "salinity", "alkalinity"], takes: ["calcium"] };
export const REQUIRED_INPUTS: Readonly<Record<DerivedFormula, RequiredInputs>> = {
  salinity: { needs: ["temperature"], takes: [] },
  specific_conductance: { needs: ["temperature"], takes: [] },
  oxygen_saturation: { needs: ["temperature", "salinity"], takes: ["pressure"] },
  unionised_ammonia: { needs: ["temperature", "salinity", "ammonia"], takes: [] },
  pco2: CARBONATE,
  aragonite_saturation: CARBONATE,
  calcite_saturation: CARBONATE,
  redox_eh: { needs: ["temperature"], takes: [] },
  osmolality: { needs: ["temperature"], takes: [] },
  density: { needs: ["temperature"], takes: [] },
  specific_gravity: { needs: [], takes: [] },
  total_gas_pressure: { needs: ["temperature", "salinity"], takes: ["pressure", "oxygen"] },
};

/** A stream that may serve as an input, best first; older than `maxAge` it is no evidence. */
export interface InputChoice {
  readonly stream: number;
  readonly maxAge: number;
}
export interface Derivation {
  readonly target: number;
  readonly formula: DerivedFormula;
  readonly choices: Readonly<Partial<Record<InputRole, readonly InputChoice[]>>>;
  /** Of the reading that sets it off: what it is of, and what its probe's numbers stand on, oldest first. */
  readonly quantity: QuantityId;
  readonly basis: readonly ProbeBasis[];
}
export interface DerivedStreamSpec {
  readonly system: string;
  readonly pointCode: string;
  readonly pointRole: PointRole;
  readonly quantity: DerivedFormula;
  readonly interval: number | null;
}

/** Inputs come before what is computed from them when readings share an instant. */
const RANKS: Partial<Record<QuantityId, number>> = {
  barometric_pressure: 0,
  temperature: 1,
  conductivity: 2,
  salinity: 3,
  specific_conductance: 3,
  total_ammonia: 4,
  alkalinity: 4,
  calcium: 4,
  dissolved_oxygen: 5,
  ph: 6,
};
/** What nothing is computed from comes last, in no order of its own. */
export const rankOfQuantity = (quantity: QuantityId): number => RANKS[quantity] ?? 7;
export const rankOf = (stream: StreamFacts): number => rankOfQuantity(stream.quantity);

const waterAt = (stream: StreamFacts) => pointRole(stream.pointRole).water;
const isSystemWater = (stream: StreamFacts) => waterAt(stream) === "system";
const is = (quantity: QuantityId, origin: StreamFacts["origin"]) => (stream: StreamFacts) =>
  stream.quantity === quantity && stream.origin === origin;

/** Bench temperature and salinity substitute for a probe for a day; an unscheduled probe (replayed records) for two hours. */
const BENCH_STANDS_IN = DAY;
const UNSCHEDULED = 2 * HOUR;
const LEAST_PROBE_AGE = 30 * MINUTE;
/** How long a total ammonia result is carried. Common practice, no source: a day in quarantine and young filters, else a week. */
const CARRIED_YOUNG = DAY;
const CARRIED = 7 * DAY;
/** Alkalinity is tested weekly and calcium monthly. Common practice, no source. */
const CALCIUM_CARRIED = 31 * DAY;

const probeAge = (stream: StreamFacts) =>
  stream.interval === null ? UNSCHEDULED : Math.max(LEAST_PROBE_AGE, 3 * stream.interval);

/** Streams of a quantity in the same water as the trigger, nearest first. The barometer hangs in no water and counts for all of them. */
function nearby(facts: EvaluatorFacts, trigger: StreamFacts, quantity: QuantityId): StreamFacts[] {
  const isThere = (stream: StreamFacts) =>
    quantity === QUANTITY_OF_ROLE.pressure || waterAt(stream) === waterAt(trigger);
  return nearestFirst(
    trigger.pointCode,
    facts.streams.filter((stream) => stream.quantity === quantity && isThere(stream)),
  );
}

function choicesOf(facts: EvaluatorFacts, trigger: StreamFacts, role: InputRole): InputChoice[] {
  const streams = nearby(facts, trigger, QUANTITY_OF_ROLE[role]);
  if (role === "ammonia" || role === "alkalinity" || role === "calcium") {
    const carried =
      role === "calcium"
        ? CALCIUM_CARRIED
        : role === "ammonia" && facts.system.youngFilter
          ? CARRIED_YOUNG
          : CARRIED;
    return streams.map((stream) => ({
      stream: stream.id,
      maxAge: stream.origin === "bench" ? carried : probeAge(stream),
    }));
  }
  const of = (origin: StreamFacts["origin"], maxAge: (stream: StreamFacts) => number) =>
    streams
      .filter((stream) => stream.origin === origin)
      .map((stream) => ({ stream: stream.id, maxAge: maxAge(stream) }));
  return [...of("probe", probeAge), ...of("derived", probeAge), ...of("bench", () => BENCH_STANDS_IN)];
}

/** Something that can be computed at each reading of `trigger`. */
export interface DerivedPair {
  readonly trigger: StreamFacts;
  readonly formula: DerivedFormula;
  /** Kept by the evaluator; the rest is computed when somebody asks. */
  readonly isStored: boolean;
}

const hasBand = (facts: EvaluatorFacts, formula: DerivedFormula, pointCode: string) =>
  facts.bands.some((band) => band.quantity === formula && (band.point === null || band.point === pointCode));

/**
 * Everything that a system's streams allow to be computed. Salinity, specific conductance, oxygen percent and un-ionised ammonia are
 * always kept, because rates and findings rest on them; the others where a band asks for them.
 */
export function derivedPairs(facts: EvaluatorFacts): DerivedPair[] {
  const { streams, system } = facts;
  const isFresh = system.water === "fresh";
  const found: DerivedPair[] = [];
  const some = (...quantities: readonly string[]) =>
    streams.some((s) => quantities.includes(s.quantity) && s.origin !== "derived");
  const add = (trigger: StreamFacts, formula: DerivedFormula, always = false) => {
    // What a probe measures itself is not computed beside it.
    const isMeasured = streams.some(
      (s) => s.quantity === formula && s.origin === "probe" && s.pointCode === trigger.pointCode,
    );
    if (isMeasured && trigger.quantity !== formula && !always) return;
    const isStored = always || (!isMeasured && hasBand(facts, formula, trigger.pointCode));
    found.push({ trigger, formula, isStored });
  };
  if (!some("temperature")) return found;
  const hasSalinity = isFresh || some("salinity", "conductivity");
  for (const stream of streams) {
    if (is("conductivity", "probe")(stream)) add(stream, isFresh ? "specific_conductance" : "salinity", true);
    if (is("dissolved_oxygen", "probe")(stream)) add(stream, "oxygen_saturation", true);
    if (is("orp", "probe")(stream)) add(stream, "redox_eh");
    if (is("gas_excess", "probe")(stream) || is("total_gas_pressure", "probe")(stream))
      if (hasSalinity) add(stream, "total_gas_pressure");
  }
  for (const stream of salinityTriggers(streams)) {
    add(stream, "density");
    add(stream, "specific_gravity");
    add(stream, "osmolality");
  }
  const probes = streams.filter((s) => is("ph", "probe")(s) && isSystemWater(s));
  const triggers =
    probes.length > 0 ? probes : streams.filter((s) => is("ph", "bench")(s) && isSystemWater(s));
  for (const stream of triggers) {
    if (some("total_ammonia")) add(stream, "unionised_ammonia", true);
    if (!some("alkalinity") || !hasSalinity) continue;
    add(stream, "pco2");
    if (isFresh) continue;
    add(stream, "aragonite_saturation");
    add(stream, "calcite_saturation");
  }
  return found;
}

/** One salinity a point: its probe's, else what is computed from conductivity, else the bench's. */
function salinityTriggers(streams: readonly StreamFacts[]): StreamFacts[] {
  const rank = { probe: 0, derived: 1, equipment: 2, bench: 3 };
  const best = new Map<string, StreamFacts>();
  for (const stream of streams) {
    if (stream.quantity !== "salinity") continue;
    const known = best.get(stream.pointCode);
    if (!known || rank[stream.origin] < rank[known.origin]) best.set(stream.pointCode, stream);
  }
  return [...best.values()];
}

/** Derived streams that should exist for what the system measures; the store creates the missing ones. */
export function missingDerivedStreams(facts: EvaluatorFacts): DerivedStreamSpec[] {
  return derivedPairs(facts)
    .filter((pair) => pair.isStored)
    .map(({ trigger, formula }) => ({
      system: facts.system.id,
      pointCode: trigger.pointCode,
      pointRole: trigger.pointRole,
      quantity: formula,
      interval: trigger.interval,
    }));
}

/** Where a formula finds its inputs for one trigger. `target` is the stream its results are kept in, -1 where they are not kept. */
export function derivationOf(
  facts: EvaluatorFacts,
  { trigger, formula }: DerivedPair,
  target: number,
): Derivation {
  const { needs, takes } = REQUIRED_INPUTS[formula];
  return {
    target,
    formula,
    choices: Object.fromEntries([...needs, ...takes].map((role) => [role, choicesOf(facts, trigger, role)])),
    quantity: trigger.quantity,
    basis: trigger.basis ?? [],
  };
}

/** By trigger stream: what each of its readings lets us compute. Pairs whose derived stream does not exist yet are left out. */
export function derivationsOf(facts: EvaluatorFacts): Map<number, Derivation[]> {
  const byTrigger = new Map<number, Derivation[]>();
  for (const pair of derivedPairs(facts)) {
    if (!pair.isStored) continue;
    const { trigger, formula } = pair;
    const target = facts.streams.find(
      (s) => s.origin === "derived" && s.quantity === formula && s.pointCode === trigger.pointCode,
    );
    if (!target) continue;
    const list = byTrigger.get(trigger.id) ?? [];
    list.push(derivationOf(facts, pair, target.id));
    byTrigger.set(trigger.id, list);
  }
  return byTrigger;
}
