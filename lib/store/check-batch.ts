import { type AcceptBatch, StoreError } from "./port.ts";

/**
 * Refuses a batch that no database should see: instants that are not whole milliseconds, values that are not finite
 * (SQLite would store NaN as NULL and 9.5 ms as 9.5). Throws a StoreError "invalid" naming field and value.
 */
export function checkBatch(batch: AcceptBatch): void {
  whole("now", batch.now);
  for (const reading of batch.readings) {
    whole("at", reading.at);
    if (!Number.isFinite(reading.value)) {
      throw new StoreError(
        "invalid",
        `A reading of stream ${reading.stream} at ${reading.at} has the value ${reading.value}: send a finite number, or leave the reading out.`,
      );
    }
  }
  for (const { topic, readings } of batch.unclaimed) {
    for (const { at, value } of readings) {
      whole("at", at);
      if (typeof value === "number" && !Number.isFinite(value)) {
        throw new StoreError(
          "invalid",
          `A reading on ${topic} at ${at} has the value ${value}: send a finite number.`,
        );
      }
    }
  }
}

/** Refuses an instant that is not whole UTC milliseconds. */
export function whole(field: string, instant: number): void {
  if (!Number.isSafeInteger(instant)) {
    throw new StoreError(
      "invalid",
      `${field} is ${instant}: give whole milliseconds since 1970-01-01T00:00:00Z.`,
    );
  }
}
