/** Which streams are computed from which: worked out from what a system measures, so that nobody has to set it up. */
import { DAY, HOUR, MINUTE } from "../time/instant.ts";
import type { EvaluatorFacts, StreamFacts } from "./facts.ts";

export type DerivedFormula = "salinity" | "specific_conductance" | "oxygen_saturation" | "unionised_ammonia";

/** A stream that may serve as an input, best first; older than `maxAge` it is no evidence. */
export interface InputChoice {
  readonly stream: number;
  readonly maxAge: number;
}
export interface Derivation {
  readonly target: number;
  readonly formula: DerivedFormula;
  readonly temperature: readonly InputChoice[];
  readonly salinity: readonly InputChoice[];
  readonly ammonia: readonly InputChoice[];
  readonly pressure: readonly InputChoice[];
}
export interface NeededStream {
  readonly system: string;
  readonly pointCode: string;
  readonly quantity: DerivedFormula;
  readonly interval: number | null;
}

/** Inputs come before what is computed from them when readings share an instant. */
const RANKS: Readonly<Record<string, number>> = {
  barometric_pressure: 0,
  temperature: 1,
  conductivity: 2,
  salinity: 3,
  specific_conductance: 3,
  total_ammonia: 4,
  dissolved_oxygen: 5,
  ph: 6,
};
export const rankOf = (stream: StreamFacts): number => RANKS[stream.quantity] ?? 7;

const isMakeUp = (stream: StreamFacts) => stream.pointCode.startsWith("make-up");
const is = (quantity: string, origin: StreamFacts["origin"]) => (stream: StreamFacts) =>
  stream.quantity === quantity && stream.origin === origin;

/** Bench temperature and salinity stand in for a probe for a day; an unscheduled probe (replayed records) for two hours. */
const BENCH_STANDS_IN = DAY;
const UNSCHEDULED = 2 * HOUR;
const LEAST_PROBE_AGE = 30 * MINUTE;
/** How long a total ammonia result is carried. Common practice, no source: a day in quarantine and young filters, else a week. */
const CARRIED_YOUNG = DAY;
const CARRIED = 7 * DAY;

const probeAge = (stream: StreamFacts) =>
  stream.interval === null ? UNSCHEDULED : Math.max(LEAST_PROBE_AGE, 3 * stream.interval);

function choices(facts: EvaluatorFacts, trigger: StreamFacts, quantity: string): InputChoice[] {
  const near = (a: StreamFacts, b: StreamFacts) =>
    Number(b.pointCode === trigger.pointCode) - Number(a.pointCode === trigger.pointCode) ||
    Number(b.pointCode === "display") - Number(a.pointCode === "display") ||
    a.id - b.id;
  const of = (origin: StreamFacts["origin"], maxAge: (stream: StreamFacts) => number) =>
    facts.streams
      .filter((stream) => is(quantity, origin)(stream) && isMakeUp(stream) === isMakeUp(trigger))
      .sort(near)
      .map((stream) => ({ stream: stream.id, maxAge: maxAge(stream) }));
  return [...of("probe", probeAge), ...of("derived", probeAge), ...of("bench", () => BENCH_STANDS_IN)];
}

function ammoniaChoices(facts: EvaluatorFacts, trigger: StreamFacts): InputChoice[] {
  const carried = facts.system.youngFilter ? CARRIED_YOUNG : CARRIED;
  return facts.streams
    .filter((stream) => stream.quantity === "total_ammonia" && isMakeUp(stream) === isMakeUp(trigger))
    .sort(
      (a, b) =>
        Number(b.pointCode === trigger.pointCode) - Number(a.pointCode === trigger.pointCode) || a.id - b.id,
    )
    .map((stream) => ({ stream: stream.id, maxAge: stream.origin === "bench" ? carried : probeAge(stream) }));
}

/** [trigger, formula] pairs that a system's streams allow. */
function pairs(facts: EvaluatorFacts): [StreamFacts, DerivedFormula][] {
  const { streams, system } = facts;
  const fresh = system.water === "fresh";
  const found: [StreamFacts, DerivedFormula][] = [];
  const some = (test: (stream: StreamFacts) => boolean) => streams.some(test);
  const measuresTemperature = some((s) => s.quantity === "temperature" && s.origin !== "derived");
  for (const stream of streams) {
    if (is("conductivity", "probe")(stream) && measuresTemperature)
      found.push([stream, fresh ? "specific_conductance" : "salinity"]);
    if (is("dissolved_oxygen", "probe")(stream) && measuresTemperature)
      found.push([stream, "oxygen_saturation"]);
  }
  const hasAmmonia = some((s) => s.quantity === "total_ammonia" && s.origin !== "derived");
  if (hasAmmonia && measuresTemperature) {
    const probes = streams.filter((s) => is("ph", "probe")(s) && !isMakeUp(s));
    const triggers = probes.length > 0 ? probes : streams.filter((s) => is("ph", "bench")(s) && !isMakeUp(s));
    for (const stream of triggers) found.push([stream, "unionised_ammonia"]);
  }
  return found;
}

/** Derived streams that should exist for what the system measures; the store creates the missing ones. */
export function neededStreams(facts: EvaluatorFacts): NeededStream[] {
  return pairs(facts).map(([trigger, quantity]) => ({
    system: facts.system.id,
    pointCode: trigger.pointCode,
    quantity,
    interval: trigger.interval,
  }));
}

/** By trigger stream: what each of its readings lets us compute. Pairs whose derived stream does not exist yet are left out. */
export function derivationsOf(facts: EvaluatorFacts): Map<number, Derivation[]> {
  const byTrigger = new Map<number, Derivation[]>();
  for (const [trigger, formula] of pairs(facts)) {
    const target = facts.streams.find(
      (s) => s.origin === "derived" && s.quantity === formula && s.pointCode === trigger.pointCode,
    );
    if (!target) continue;
    const list = byTrigger.get(trigger.id) ?? [];
    list.push({
      target: target.id,
      formula,
      temperature: choices(facts, trigger, "temperature"),
      salinity: choices(facts, trigger, "salinity"),
      ammonia: formula === "unionised_ammonia" ? ammoniaChoices(facts, trigger) : [],
      pressure: choices(facts, trigger, "barometric_pressure"),
    });
    byTrigger.set(trigger.id, list);
  }
  return byTrigger;
}
