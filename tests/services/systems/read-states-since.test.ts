import { afterEach, beforeEach, expect, test } from "vitest";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { readStatesSince } from "#services/systems/read-states-since.ts";
import type { Stream } from "#store/port.ts";
import { current, NOW, openWorld, rollup, system, type World } from "../world.ts";

const [RUNNING, TRIPPED] = [0, 3];
const MIDNIGHT = Date.UTC(2026, 2, 2);
let world: World;
let pump: Stream;
beforeEach(async () => {
  world = await openWorld([system("reef")]);
  pump = await world.stream("reef", "sump", "pump", "equipment");
});
afterEach(() => world.dispose());

async function readings(...pairs: readonly (readonly [number, number])[]) {
  const source = await world.store.ensureSource("gateway-1", "gateway");
  const sent = pairs.map(([at, value]) => ({
    stream: pump.id,
    at,
    value,
    source: source.id,
    sequence: null,
    mark: null,
  }));
  await world.store.append({ now: NOW, readings: sent, rejected: [], unclaimed: [] });
}

test("a state that changed stands since its first reading after the last other one", async () => {
  await readings(
    [NOW - 3 * HOUR, RUNNING],
    [NOW - 2 * HOUR, TRIPPED],
    [NOW - HOUR, TRIPPED],
    [NOW - MINUTE, TRIPPED],
  );
  await world.evaluated({
    current: [current(pump, TRIPPED)],
    rollups: [
      rollup(pump, DAY, MIDNIGHT - DAY, [RUNNING, RUNNING]),
      rollup(pump, DAY, MIDNIGHT, [RUNNING, TRIPPED, TRIPPED, TRIPPED]),
    ],
  });
  expect(await readStatesSince(world.read, "reef")).toEqual([
    { stream: pump.id, since: NOW - 2 * HOUR, longer: false },
  ]);
});

test("a change over midnight, and over days without readings, is found", async () => {
  const before = MIDNIGHT - 5 * DAY + HOUR;
  await readings([before, RUNNING], [MIDNIGHT + HOUR, TRIPPED], [NOW - MINUTE, TRIPPED]);
  await world.evaluated({
    current: [current(pump, TRIPPED)],
    rollups: [
      rollup(pump, DAY, MIDNIGHT - 5 * DAY, [RUNNING]),
      rollup(pump, DAY, MIDNIGHT, [TRIPPED, TRIPPED]),
    ],
  });
  expect(await readStatesSince(world.read, "reef")).toEqual([
    { stream: pump.id, since: MIDNIGHT + HOUR, longer: false },
  ]);
});

test("what never was otherwise says from when on that is known; what was never read is left out", async () => {
  await world.stream("reef", "display", "float", "equipment");
  await readings([NOW - 9 * DAY, RUNNING], [NOW - MINUTE, RUNNING]);
  await world.evaluated({
    current: [current(pump, RUNNING)],
    rollups: [
      rollup(pump, DAY, MIDNIGHT - 9 * DAY, [RUNNING]),
      rollup(pump, DAY, MIDNIGHT, [RUNNING, RUNNING]),
    ],
  });
  expect(await readStatesSince(world.read, "reef")).toEqual([
    { stream: pump.id, since: MIDNIGHT - 9 * DAY, longer: true },
  ]);
});
