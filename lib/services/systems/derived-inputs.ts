/** Finds, in what is stored, the inputs that the evaluator chose for a derived value at a moment. */

import type { WorkingInput } from "#contract/working-views.ts";
import type { ChosenInput, DerivedInputs } from "#core/evaluate/compute.ts";
import {
  type DerivedPair,
  derivationOf,
  derivedPairs,
  type InputChoice,
  type InputRole,
  QUANTITY_OF_ROLE,
  REQUIRED_INPUTS,
} from "#core/evaluate/derivations.ts";
import { FRESH_WATER_SALINITY } from "#core/evaluate/derive.ts";
import type { EvaluatorFacts } from "#core/evaluate/facts.ts";
import { FLAG, type Flag, isGood } from "#core/quality/flag.ts";
import { isKnownStream } from "#core/set-up/known-stream.ts";
import { basisAt, basisWords } from "#core/set-up/probe-basis.ts";
import { durationText } from "#core/time/duration-text.ts";
import { DAY, HOUR, type Instant } from "#core/time/instant.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Store, Stream } from "#store/port.ts";
import { believedReadings } from "../gateway/placed-readings.ts";
import type { SystemSetUp } from "../set-up.ts";

export const factsOf = (at: SystemSetUp): EvaluatorFacts => ({
  system: at.system,
  zone: at.site.zone,
  elevation: at.site.elevation,
  streams: at.streams.filter(isKnownStream),
  bands: at.bands,
  plans: at.plans,
});

/** What of a system can be computed, in the order of its streams. */
export const pairsOf = (at: SystemSetUp): DerivedPair[] => derivedPairs(factsOf(at));

interface LatestInput {
  readonly at: Instant;
  readonly value: number;
  readonly flag: Flag;
  readonly mark: "below" | "above" | null;
}
type Row = Omit<LatestInput, "flag">;

const MOST_FLAGS = 100_000;

async function rowsOf(store: Store, stream: Stream, from: Instant, to: Instant): Promise<readonly Row[]> {
  if (stream.origin === "bench") {
    const results = await store.benchBetween([stream.id], from, to, Number.MAX_SAFE_INTEGER);
    return results.map(({ at, value, qualifier }) => ({
      at,
      value,
      mark: qualifier === "<" ? "below" : qualifier === ">" ? "above" : null,
    }));
  }
  if (stream.origin === "derived") {
    const rows = await store.readDerived(stream.id, from, to, MOST_FLAGS);
    return rows.map(({ at, value }) => ({ at, value, mark: null }));
  }
  const rows = await believedReadings(store, [stream.id], { from, to });
  return rows.map(({ at, value, mark }) => ({
    at,
    value,
    mark: mark === "below" || mark === "above" ? mark : null,
  }));
}

/** The newest good reading of a stream with from <= at <= upTo. Of replicates at one moment the first counts, as in the evaluator. */
async function newestGood(
  store: Store,
  stream: Stream,
  from: Instant,
  upTo: Instant,
): Promise<LatestInput | undefined> {
  const [rows, flags] = await Promise.all([
    rowsOf(store, stream, from, upTo + 1),
    store.readFlags(stream.id, from, upTo + 1, MOST_FLAGS),
  ]);
  const flagAt = new Map(flags.map((row) => [row.at, row.flag]));
  let best: LatestInput | undefined;
  for (const row of rows) {
    const flag = flagAt.get(row.at) ?? FLAG.pass;
    if (isGood(flag) && (!best || row.at > best.at)) best = { ...row, flag };
  }
  return best;
}

/** Looking back further and further keeps the usual case, a reading of minutes ago, to a few rows. */
const LOOK_BACK = [HOUR, DAY, 8 * DAY, 62 * DAY];

async function triggerAt(store: Store, trigger: Stream, upTo: Instant): Promise<LatestInput | undefined> {
  let until = upTo;
  for (const back of LOOK_BACK) {
    const found = await newestGood(store, trigger, upTo - back, until);
    if (found) return found;
    until = upTo - back - 1;
  }
  return undefined;
}

const shownOf = (
  quantity: string,
  rest: Omit<WorkingInput, "quantity" | "label" | "unit" | "unitLabel" | "decimals">,
): WorkingInput => ({ quantity, ...labelOf(quantity), ...rest });

const fromStream = (stream: Stream, found: LatestInput, age: number, note: string | null): WorkingInput =>
  shownOf(stream.quantity, {
    value: found.value,
    point: stream.pointCode,
    origin: stream.origin,
    at: found.at,
    age,
    flag: found.flag,
    mark: found.mark,
    note,
  });

const ofSystem = (quantity: string, value: number | null, note: string): WorkingInput =>
  shownOf(quantity, {
    value,
    point: null,
    origin: "system",
    at: null,
    age: null,
    flag: null,
    mark: null,
    note,
  });

/** Why nothing stands for a role, and what is done without it. */
function missing(role: InputRole, choices: readonly InputChoice[], isNeeded: boolean): string {
  const longest = Math.max(0, ...choices.map((choice) => choice.maxAge));
  const why =
    choices.length === 0 ? "not measured here" : `no good reading in the last ${durationText(longest)}`;
  if (isNeeded) return why;
  if (role === "pressure") return `${why}; standard pressure at the site's elevation is used`;
  if (role === "calcium") return `${why}; the calcium of sea salt at this salinity is used`;
  return `${why}; left out`;
}

export interface InputsThen {
  readonly at: Instant | null;
  readonly inputs: DerivedInputs | null;
  readonly shown: readonly WorkingInput[];
}

/**
 * The inputs of one derived value: of the trigger's newest good reading at or before `upTo`, and of each role the first stream in the
 * evaluator's own order whose newest good reading is young enough then.
 */
export async function inputsThen(
  store: Store,
  place: SystemSetUp,
  pair: DerivedPair,
  upTo: Instant,
): Promise<InputsThen> {
  const facts = factsOf(place);
  const byId = new Map(place.streams.map((stream) => [stream.id, stream]));
  const trigger = byId.get(pair.trigger.id);
  const found = trigger && (await triggerAt(store, trigger, upTo));
  if (!trigger || !found) return { at: null, inputs: null, shown: [] };
  const { at } = found;
  const { choices, quantity, basis } = derivationOf(facts, pair, -1);
  const held = basisAt(basis, at);
  const given: Partial<Record<InputRole, ChosenInput>> = {};
  const shown: WorkingInput[] = [fromStream(trigger, found, 0, basisWords(quantity, held))];
  const { needs, takes } = REQUIRED_INPUTS[pair.formula];
  for (const role of [...needs, ...takes]) {
    const quantity = QUANTITY_OF_ROLE[role];
    if (role === "salinity" && facts.system.water === "fresh") {
      given.salinity = FRESH_WATER_SALINITY;
      shown.push(ofSystem(quantity, 0, "fresh water: no sea salt"));
      continue;
    }
    const ofRole = choices[role] ?? [];
    for (const { stream: id, maxAge } of ofRole) {
      const stream = byId.get(id);
      const chosen = stream && (await newestGood(store, stream, at - maxAge, at));
      if (!stream || !chosen) continue;
      given[role] = { value: chosen.value, age: at - chosen.at, mark: chosen.mark };
      shown.push(fromStream(stream, chosen, at - chosen.at, null));
      break;
    }
    if (given[role] === undefined)
      shown.push(ofSystem(quantity, null, missing(role, ofRole, needs.includes(role))));
  }
  const inputs: DerivedInputs = {
    formula: pair.formula,
    value: found.value,
    quantity,
    basis: held,
    water: facts.system.water,
    elevation: facts.elevation,
    given,
  };
  return { at, inputs, shown };
}
