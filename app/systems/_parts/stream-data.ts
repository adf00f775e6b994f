import type { StreamState } from "#contract/views.ts";

/** What a test, or a script of the reader's own, finds a value by. */
export function streamData(system: string, stream: StreamState) {
  return {
    "data-system": system,
    "data-quantity": stream.quantity,
    "data-point": stream.point,
    "data-origin": stream.origin,
    "data-value": stream.word ?? stream.value ?? "",
    "data-flag": stream.flag,
    "data-deviation": stream.deviation ?? "",
  };
}
