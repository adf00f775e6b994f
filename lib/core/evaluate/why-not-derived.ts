/** Why a derived value is not known now: by the inputs its formula needs, as they stand. */
import { type Flag, isGood, type Reason } from "../quality/flag.ts";
import type { Instant } from "../time/instant.ts";
import { type DerivedPair, derivationOf, type InputRole, REQUIRED_INPUTS } from "./derivations.ts";
import type { EvaluatorFacts } from "./facts.ts";

/** The newest reading of a stream and when it is overdue. */
interface Newest {
  readonly at: Instant;
  readonly flag: Flag;
  readonly silentAt: Instant | null;
}

const WITHOUT: Readonly<Partial<Record<InputRole, Reason>>> = {
  temperature: "without_temperature",
  salinity: "without_salinity",
  ammonia: "without_ammonia",
  alkalinity: "without_alkalinity",
};

/** The first thing that is missing: the reading it is computed at, else an input; null where nothing is. */
export function whyNotDerived(
  facts: EvaluatorFacts,
  pair: DerivedPair,
  newest: (stream: number) => Newest | undefined,
  now: Instant,
): Reason | null {
  const trigger = newest(pair.trigger.id);
  if (!trigger || (trigger.silentAt !== null && now >= trigger.silentAt)) return "input_missing";
  if (!isGood(trigger.flag)) return "input_suspect";
  const { choices } = derivationOf(facts, pair, -1);
  const isThere = (role: InputRole): boolean =>
    (role === "salinity" && facts.system.water === "fresh") ||
    (choices[role] ?? []).some(({ stream, maxAge }) => {
      const row = newest(stream);
      return row !== undefined && isGood(row.flag) && now - row.at <= maxAge;
    });
  const missing = REQUIRED_INPUTS[pair.formula].needs.find((role) => !isThere(role));
  return missing === undefined ? null : (WITHOUT[missing] ?? "input_missing");
}
