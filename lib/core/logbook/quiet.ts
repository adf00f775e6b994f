/** What a log entry keeps quiet, and until when. */

import type { Level } from "../alarms/finding.ts";
import { durationText } from "../time/duration-text.ts";
import { type Instant, MINUTE } from "../time/instant.ts";
import type { QuantityId } from "../units/quantity.ts";
import type { LogVersion } from "./entry.ts";
import { logKind, type QuietRule } from "./kinds.ts";

type Window = Pick<LogVersion, "kind" | "at" | "until" | "open" | "expected">;

/**
 * Until when an entry keeps anything quiet: work that goes on, to its end or to the time typed for what is out of service, and never past the
 * cap of its kind. What is done in a moment (a feed, a dose) explains the water after it, to the cap. Null for kinds that keep nothing quiet.
 */
export function quietUntil(entry: Window): Instant | null {
  const kind = logKind(entry.kind);
  if (!kind || kind.capMinutes === 0) return null;
  const cap = entry.at + kind.capMinutes * MINUTE;
  if (!kind.lasts) return cap;
  return Math.min(cap, entry.until ?? cap, entry.expected ?? cap);
}

/** An entry that is open past its cap at `now`: what to do about it. Undefined otherwise. Kinds without a cap are never overdue. */
export function overdue(entry: Window, now: Instant): string | undefined {
  const kind = logKind(entry.kind);
  const until = quietUntil(entry);
  if (!kind || until === null || !entry.open || now < until) return undefined;
  return `${kind.label} still going on after ${durationText(now - entry.at)}. ${kind.overdue}`;
}

/** Quantities that no window ever quietens, and those whose action limits none does. Common practice, no source. */
const NEVER: ReadonlySet<string> = new Set<QuantityId>(["level", "leak", "float"]);
const NEVER_AT_ACTION: ReadonlySet<string> = new Set<QuantityId>([
  "dissolved_oxygen",
  "oxygen_saturation",
  "temperature",
]);

/** Whether a finding of this quantity and level (0 nothing to 3 urgent) may be kept quiet by any window at all. */
export function mayBeQuiet(quantity: string, level: Level): boolean {
  return !NEVER.has(quantity) && !(level >= 2 && NEVER_AT_ACTION.has(quantity));
}

/** The rules of an entry's kind with "own" replaced by the entry's quantity and point; empty where it names none. */
export function quietRules(entry: Pick<LogVersion, "kind" | "quantity" | "point">): readonly QuietRule[] {
  return (logKind(entry.kind)?.quiet ?? []).flatMap((rule): QuietRule[] => {
    if (rule.quantity !== "own") return [rule];
    if (entry.quantity === null) return [];
    return [{ ...rule, quantity: entry.quantity as QuietRule["quantity"], point: entry.point }];
  });
}
