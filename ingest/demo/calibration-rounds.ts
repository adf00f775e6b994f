/** What the invented technicians did to their probes: rounds by the calendar and visits of the story, through the verb that people use. */

import { calibratedEvery } from "#core/probes/due.ts";
import { pointRole } from "#core/set-up/point-role.ts";
import { DAY, type Instant, MINUTE } from "#core/time/index.ts";
import { forQuantity, type NumberQuantityId } from "#core/units/quantity.ts";
import { roundToFigures } from "#core/units/rounding.ts";
import type { WriteDeps } from "#services/deps.ts";
import { recordCalibration } from "#services/probes/record-calibration.ts";
import type { Store } from "#store/port.ts";
import { openClock } from "../scenario/clock.ts";
import type { Scenario } from "../scenario/load.ts";
import { seedOf, uniform } from "../scenario/noise.ts";
import type { ScenarioEvent } from "../scenario/records.ts";
import type { Entry } from "./day-records.ts";
import { staff } from "./staff.ts";

export interface Rounds {
  readonly store: Store;
  readonly scenario: Scenario;
  readonly anchor: Instant;
  /** Store ids in the order of streams.json. */
  readonly streams: readonly number[];
  readonly writing: Omit<WriteDeps, "clock" | "store">;
}

const VISIT = 8 * MINUTE;
const TYPED_AFTER = MINUTE;
const WEEK = 7;
/** The weekly round falls on this day of the story and every week from there, either way. */
const ROUND_DAY = 6;
/** Its probe is left in use in the story until its drift is found on the ninth day. */
const LEFT_OUT = { system: "cold-den", quantity: "ph", until: 13 };
const BY = "LSS technician (days)";

/** What a probe is held in, in the registry's unit; none where water in equilibrium with air serves. */
const STANDARDS: Partial<Record<NumberQuantityId, readonly number[]>> = {
  ph: [7, 10.01],
  conductivity: [12.88],
  specific_conductance: [1413],
  orp: [228],
};
/** Largest error found in a standard, as a share of it. */
const FOUND = 0.004;

/** Days of the story on which a probe is visited, from the last before it begins to `last`. */
function daysOf(system: string, quantity: string, every: number, last: number): number[] {
  const days = every / DAY;
  const own = seedOf(`${system} ${quantity}`) >>> 0;
  const first = days === WEEK ? ROUND_DAY - WEEK : -1 - (own % Math.min(days, 12));
  const found: number[] = [];
  for (let day = first; day <= last; day += days) found.push(day);
  const { until } = LEFT_OUT;
  const isLeftOut = system === LEFT_OUT.system && quantity === LEFT_OUT.quantity;
  return isLeftOut ? found.filter((day) => day < 1 || day > until) : found;
}

/** The calendar's visits up to an instant; those before the story began are written first. */
export function roundEntries({ store, scenario, anchor, streams, writing }: Rounds, to: Instant): Entry[] {
  const clock = openClock(scenario.site.zone, anchor);
  const last = Math.floor(clock.localOf(to) / DAY) + 1;
  const systems = [...new Set(scenario.streams.map(({ system }) => system))];
  return scenario.streams.flatMap(({ system, point, quantity }, index) => {
    const every = calibratedEvery(quantity);
    const stream = streams[index];
    if (every === null || stream === undefined) return [];
    const seed = seedOf(`${system}/${point}/${quantity}`);
    return daysOf(system, quantity, every, last).flatMap((day): Entry[] => {
      const from = clock.instantOf(`D${day} 09:00`) + systems.indexOf(system) * 2 * VISIT;
      const at = from + VISIT;
      const typedAt = at + TYPED_AFTER;
      if (typedAt > to) return [];
      const standards = (forQuantity(STANDARDS, quantity) ?? []).map((value, i) => ({
        value,
        read: roundToFigures(value * (1 + FOUND * uniform(seed + i, day)), 5),
      }));
      const body = {
        clientId: `demo-round-${system}-${point}-${quantity}-${day}`.slice(0, 100),
        kind: "calibration",
        from: new Date(from).toISOString(),
        at: new Date(at).toISOString(),
        standards,
        note: standards.length === 0 ? "Held against water in equilibrium with air, or a reference." : "",
      };
      const deps: WriteDeps = { ...writing, store, clock: () => typedAt };
      return [
        { at: typedAt, write: async () => void (await recordCalibration(deps, staff(BY), stream, body)) },
      ];
    });
  });
}

/** A calibration that the story tells of, on the exhibit's probe of its quantity. */
export function calibrationEntry(
  { store, scenario, streams, writing }: Rounds,
  event: ScenarioEvent,
  end: Instant,
): Entry[] {
  const [system] = event.systems;
  const roles = scenario.systems.find((each) => each.code === system)?.points ?? {};
  const index = scenario.streams.findIndex(
    (each) =>
      each.system === system &&
      pointRole(roles[each.point] ?? "other").isAnimalsWater &&
      each.quantity === event.quantity,
  );
  const stream = streams[index];
  if (stream === undefined) throw new Error(`no ${event.quantity} probe of ${system} to calibrate`);
  const back = event.until ?? event.at;
  const typedAt = back + TYPED_AFTER;
  if (typedAt > end) return [];
  const { slope, offset, text } = event;
  const body = {
    clientId: `demo-calibration-${system}-${event.quantity}-${event.at}`,
    kind: "calibration",
    from: new Date(event.at).toISOString(),
    at: new Date(back).toISOString(),
    note: text,
    ...(slope === undefined ? {} : { slope }),
    ...(offset === undefined ? {} : { offset }),
  };
  const deps: WriteDeps = { ...writing, store, clock: () => typedAt };
  return [
    { at: typedAt, write: async () => void (await recordCalibration(deps, staff(event.by), stream, body)) },
  ];
}
