import { Strip } from "#app/_components/strip/strip.tsx";
import type { FieldHere } from "#contract/bench-form-view.ts";
import type { StreamState } from "#contract/views.ts";
import type { Examined } from "./draft.ts";

type Read = Extract<Examined, { kind: "read" }>;

/** What was typed as a stream's state, to be drawn on the strip of every other page; null where a place on it would claim too much. */
function stripOf({ field, point, band, bandSource }: FieldHere, read: Read): StreamState | null {
  if (read.seen === null || read.seen === "doubtful" || read.seen === "unknown") return null;
  const { quantity, label, unit, unitLabel, decimals } = field;
  const nothing = { low: null, high: null, word: null, received: null, rate: null, plan: null };
  return {
    ...nothing,
    stream: 0,
    point,
    // The strip is drawn alike for every role.
    role: "other",
    quantity,
    label,
    unit,
    unitLabel,
    decimals,
    origin: "bench",
    critical: false,
    at: null,
    value: read.value,
    flag: 1,
    reasons: [],
    silent: false,
    deviation: read.deviation,
    band,
    bandSource,
    sweepLow: null,
    sweepHigh: null,
    standing: read.seen,
  };
}

/** Where what was typed lies in its band. */
export function TypedStrip({ row, read }: { row: FieldHere; read: Read }) {
  const drawn = stripOf(row, read);
  return drawn === null ? null : <Strip stream={drawn} />;
}
