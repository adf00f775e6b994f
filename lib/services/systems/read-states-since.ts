import { isGood } from "#core/quality/flag.ts";
import { SITE_DAY } from "#core/quality/rollup.ts";
import { DAY, HOUR, type Instant } from "#core/time/instant.ts";
import { quantity } from "#core/units/index.ts";
import type { Current, RollupRow, Store } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { lookUp, systemOf } from "../set-up.ts";

/** How far back a page looks; what has said the same for longer is said to have said so "for over 3 months". */
const BACK = 92 * DAY;
/** Two days of readings every ten seconds. */
const MOST_READINGS = 20_000;

/** Since when a state says what it says; `longer`: at least since then, nothing else was found back to there. */
export interface StateSince {
  readonly stream: number;
  readonly since: Instant;
  readonly longer: boolean;
}

const differs = (day: RollupRow, value: number): boolean => day.min !== value || day.max !== value;

async function sinceOf(
  store: Store,
  current: Current,
  days: readonly RollupRow[],
): Promise<StateSince | null> {
  const { stream, value } = current;
  const known = days.filter((day) => day.good > 0).sort((a, b) => a.start - b.start);
  const at = known.findLastIndex((day) => differs(day, value));
  const first = known[0];
  if (first === undefined) return null;
  const from = known[at]?.start;
  if (from === undefined) return { stream, since: first.start, longer: true };
  // The change lies in that day, or at the beginning of the next one that has readings.
  const to = Math.max(from + 2 * DAY, (known[at + 1]?.start ?? from) + DAY + 2 * HOUR);
  const read = await store.readSeries({ stream, from, to, resolution: "raw", limit: MOST_READINGS });
  const last = read.mean.findLastIndex((mean, i) => mean !== value && (read.flag[i] ?? 9) <= 2);
  const since = read.at[last + 1];
  return { stream, since: since ?? current.at, longer: read.next !== null };
}

/**
 * Since when the equipment and contacts of a system say what they say now, from site days and the readings of one of them. States that
 * have no good reading are left out. Throws AppError "not_found".
 */
export async function readStatesSince(deps: ReadDeps, code: string): Promise<StateSince[]> {
  const at = await lookUp(deps.setUp, (index) => systemOf(index, code));
  const states = at.streams.filter((stream) => quantity(stream.quantity)?.kind === "state");
  const ids = states.map((stream) => stream.id);
  if (ids.length === 0) return [];
  const now = deps.clock();
  const [currents, days] = await Promise.all([
    deps.store.readCurrent(ids),
    deps.store.readRollups({ streams: ids, from: now - BACK, to: now + DAY, width: SITE_DAY }),
  ]);
  const found = await Promise.all(
    currents
      .filter((current) => isGood(current.flag))
      .map((current) =>
        sinceOf(
          deps.store,
          current,
          days.filter((day) => day.stream === current.stream),
        ),
      ),
  );
  return found.filter((since) => since !== null);
}
