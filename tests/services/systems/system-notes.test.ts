import { afterEach, beforeEach, expect, test } from "vitest";
import { overnightView, systemsView } from "#contract/views.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { writeLog } from "#services/logbook/write-log.ts";
import { readOvernight } from "#services/overnight/read-overnight.ts";
import { readSystem } from "#services/systems/read-system.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { KEEPER, NOW, openWorld, system, type World } from "../world.ts";

let world: World;
beforeEach(async () => {
  world = await openWorld([system("reef"), system("kelp")]);
  await world.stream("reef", "display", "turbidity");
  await world.stream("reef", "display", "temperature");
});
afterEach(() => world.dispose());

const note = async (code: string) =>
  systemsView.parse(await readSystems(world.read)).systems.find((row) => row.system === code)?.notes;

test("work that mutes alarms now is said on Systems, the system and Overnight, and at the quantity it is about", async () => {
  await writeLog(world.write, KEEPER, {
    clientId: "wash",
    kind: "backwash",
    systems: ["reef"],
    at: new Date(NOW - 5 * MINUTE).toISOString(),
    open: true,
    text: "Sand filter.",
  });
  const [said] = (await note("reef")) ?? [];
  expect(said).toMatchObject({ kind: "alarms muted" });
  expect(said?.says).toMatch(/^Backwash logged: alarms muted until \d\d:\d\d for .*turbidity/);
  expect(await note("kelp")).toBeUndefined();
  const reef = await readSystem(world.read, "reef");
  expect(reef.notes).toEqual([said]);
  expect(reef.streams.map(({ quantity, muted }) => [quantity, muted !== undefined])).toEqual(
    expect.arrayContaining([
      ["turbidity", true],
      ["temperature", false],
    ]),
  );
  const night = overnightView.parse(await readOvernight(world.read, {}));
  expect(night.notes).toEqual([{ ...said, system: "reef" }]);
});

test("a window that is over is over, and one that has not begun is none", async () => {
  const entry = { kind: "backwash", systems: ["reef"], text: "Sand filter." };
  const at = (instant: number) => new Date(instant).toISOString();
  await writeLog(world.write, KEEPER, {
    ...entry,
    clientId: "ended",
    at: at(NOW - 20 * MINUTE),
    until: at(NOW - 10 * MINUTE),
  });
  expect(await note("reef")).toBeUndefined();
  await writeLog(world.write, KEEPER, { ...entry, clientId: "open", at: at(NOW - 5 * MINUTE), open: true });
  expect(await note("reef")).toHaveLength(1);
  // Nobody ended it: past the cap of its kind it keeps nothing quiet any more.
  world.now = NOW + 12 * HOUR;
  expect(await note("reef")).toBeUndefined();
});
