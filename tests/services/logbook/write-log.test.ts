import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { logAnswer, logView } from "#contract/log.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { closeLog, correctLog } from "#services/logbook/change-log.ts";
import { readLog, readLogEntry } from "#services/logbook/read-log.ts";
import { writeLog } from "#services/logbook/write-log.ts";
import { KEEPER, NOW, openWorld, system, type World } from "../world.ts";

let world: World;
beforeEach(async () => {
  world = await openWorld([system("reef"), system("kelp")]);
});
afterEach(() => world.dispose());

const text = (at: number) => new Date(at).toISOString();
const AT = NOW - 10 * MINUTE;
const backwash = {
  clientId: "phone-1",
  kind: "backwash",
  systems: ["reef"],
  at: text(AT),
  open: true,
  amount: 2,
  unit: "m3",
  text: "Two filters",
};
const write = (change: object = {}) => writeLog(world.write, KEEPER, { ...backwash, ...change });

describe("an entry", () => {
  test("is stored as written and told what it keeps quiet, once per client id", async () => {
    const first = await write();
    expect(logAnswer.parse(first)).toEqual(first);
    expect(first.entry).toMatchObject({
      kindLabel: "Backwash",
      systems: [{ system: "reef", name: "reef" }],
      by: "keeper",
      open: true,
      amount: 2,
      unit: "m3",
      late: false,
      quiet: { until: AT + 30 * MINUTE },
      earlier: [],
    });
    expect(first.entry.quiet?.says).toMatch(/flow.*Level, leaks .* are never muted/);
    expect(await write({ text: "sent again" })).toEqual({ ...first, repeated: true });
    expect((await readLog(world.read, {})).entries).toHaveLength(1);
  });

  test("is closed, corrected with a reason, and keeps what stood there", async () => {
    const { entry } = await write();
    const closing = { clientId: "phone-2", at: text(NOW - MINUTE), text: "Two filters, done" };
    const closed = await closeLog(world.write, KEEPER, entry.id, closing);
    expect(closed.entry).toMatchObject({
      id: entry.id,
      open: false,
      until: NOW - MINUTE,
      closedBy: "keeper",
    });
    expect(await closeLog(world.write, KEEPER, entry.id, closing)).toMatchObject({ repeated: true });
    await expect(
      closeLog(world.write, KEEPER, entry.id, { ...closing, clientId: "phone-3" }),
    ).rejects.toMatchObject({
      code: "conflict",
    });
    const fix = {
      clientId: "phone-4",
      reason: "it was three",
      amount: 3,
      text: "Three filters",
      systems: ["reef", "kelp"],
    };
    const corrected = await correctLog(world.write, KEEPER, entry.id, fix);
    expect(corrected.entry).toMatchObject({
      id: entry.id,
      amount: 3,
      reason: "it was three",
      until: NOW - MINUTE,
    });
    expect(corrected.entry.systems.map((row) => row.system)).toEqual(["reef", "kelp"]);
    expect(corrected.entry.earlier.map((row) => row.text)).toEqual(["Two filters, done", "Two filters"]);
    expect(await readLogEntry(world.read, entry.id)).toEqual(corrected.entry);
    await expect(
      correctLog(world.write, KEEPER, entry.id, { clientId: "x", reason: "none at all" }),
    ).rejects.toMatchObject({
      code: "invalid",
    });
  });

  test("that is open past its cap says so", async () => {
    const { entry } = await write();
    world.now = NOW + HOUR;
    expect((await readLogEntry(world.read, entry.id)).overdue).toBe(
      "Backwash still going on after 1 h 10 min. Close the valve.",
    );
  });

  test.each<[string, object, string]>([
    ["in the future", { at: text(NOW + HOUR) }, "at"],
    ["that ends before it begins", { open: false, until: text(AT - 1) }, "until"],
    ["both open and over", { until: text(NOW) }, "open"],
    ["that takes no time and is open", { kind: "death" }, "open"],
    ["with an amount without a unit", { unit: undefined }, "unit"],
    ["of a quantity there is not", { quantity: "happiness" }, "quantity"],
    ["at a point there is not", { point: "moon" }, "point"],
    ["of one system twice", { systems: ["reef", "reef"] }, "systems"],
    ["of a kind there is not", { kind: "magic" }, "kind"],
    ["of an unknown system", { systems: ["atlantis"] }, "system"],
    ["that answers an alarm there is not", { alarm: "none" }, "alarm"],
    ["with a key there is not", { colour: "red" }, ""],
  ])("%s is refused by name", async (_claim, change, field) => {
    await expect(write(change)).rejects.toMatchObject({
      issues: expect.arrayContaining([expect.objectContaining({ field })]),
    });
    expect((await world.store.verifyAudit()).rows).toBe(0);
  });
});

test("the logbook is read by range, system and kind, newest first", async () => {
  await write({ clientId: "a", open: false, until: text(AT + MINUTE) });
  await write({ clientId: "b", kind: "feed", open: false, systems: ["kelp"], at: text(NOW - MINUTE) });
  await write({ clientId: "c", at: text(NOW - 40 * HOUR) });
  const kinds = async (query: Parameters<typeof readLog>[1]) =>
    (await readLog(world.read, query)).entries.map((row) => row.kind);
  expect(logView.parse(await readLog(world.read, {}))).toMatchObject({ more: false });
  // The open one began before the day and still goes on.
  expect(await kinds({})).toEqual(["feed", "backwash", "backwash"]);
  expect(await kinds({ systems: "kelp" })).toEqual(["feed"]);
  expect(await kinds({ kinds: "feed,note" })).toEqual(["feed"]);
  expect(await kinds({ open: "true" })).toEqual(["backwash"]);
  expect((await readLog(world.read, { limit: 1 })).more).toBe(true);
  await expect(readLog(world.read, { kinds: "magic" })).rejects.toMatchObject({ code: "invalid" });
  await expect(readLog(world.read, { systems: "atlantis" })).rejects.toMatchObject({ code: "not_found" });
});
