import type { StreamState, SystemState } from "#contract/views.ts";

/** Pumps, floats, mains ...: what has words instead of a number. */
export function stateStreams(system: SystemState): StreamState[] {
  return system.streams
    .filter((s) => s.word !== null || s.unit === "")
    .sort((a, b) => a.label.localeCompare(b.label, "en") || a.point.localeCompare(b.point, "en"));
}
