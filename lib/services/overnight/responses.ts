import { needsResponse } from "#core/alarms/alarm.ts";
import type { Alarm, Store } from "#store/port.ts";

const MANY = 10_000;

/** Of these alarms the acknowledged ones that have a response in the logbook. */
export async function respondedOf(
  store: Store,
  alarms: readonly Pick<Alarm, "id" | "state" | "severity">[],
): Promise<ReadonlySet<string>> {
  const asked = alarms.filter(needsResponse).map(({ id }) => id);
  if (asked.length === 0) return new Set();
  const entries = await store.readLog({ alarms: asked, limit: MANY });
  return new Set(entries.flatMap(({ versions }) => versions.flatMap(({ alarm }) => alarm ?? [])));
}
