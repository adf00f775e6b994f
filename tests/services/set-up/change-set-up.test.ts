import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { bandsView, changeAnswer, systemSetUpView } from "#contract/set-up-forms.ts";
import { HOUR } from "#core/time/instant.ts";
import { changeBand } from "#services/set-up/change-band.ts";
import { addPoint } from "#services/set-up/change-point.ts";
import { changeStream } from "#services/set-up/change-stream.ts";
import { addSystem, changeSystem } from "#services/set-up/change-system.ts";
import { readBands, readSystemSetUp } from "#services/set-up/read-set-up.ts";
import { undoChange } from "#services/set-up/undo-change.ts";
import { actorWith, BAND, band, NOW, openWorld, system, type World } from "../world.ts";

const CURATOR = actorWith("curator", "curator");
let world: World;
beforeEach(async () => {
  world = await openWorld([system("reef"), system("kelp")], [band("reef")]);
});
afterEach(() => world.dispose());

const tighter = { ...BAND, low: 25, high: 26 };
const wanted = { quantity: "temperature", months: [tighter], reason: "pups need it", source: "the curator" };
const change = (more: object = {}) => changeBand(world.write, CURATOR, "reef", { ...wanted, ...more });
const inForce = async () => (await readBands(world.read, "reef")).bands.filter((row) => row.inForce);

describe("a band", () => {
  test("is a new version with who, why and where from; the one before ends and stays", async () => {
    const answer = await change();
    expect(changeAnswer.parse(answer)).toEqual(answer);
    expect(await inForce()).toMatchObject([
      { months: [tighter], setBy: "curator", reason: "pups need it", validFrom: NOW },
    ]);
    const view = await readBands(world.read, "reef");
    expect(bandsView.parse(view)).toEqual(view);
    expect(view.bands.map((row) => row.validTo)).toEqual([null, NOW]);
  });

  test("set from the past has the water judged again from there", async () => {
    await change({ validFrom: new Date(NOW - HOUR).toISOString() });
    const entries = await world.store.journalAfter(0, 10);
    expect(entries.at(-1)).toMatchObject({
      kind: "set-up",
      rejudge: { system: "s-reef", from: NOW - HOUR },
    });
  });

  test("is undone as a new version, in force from where the undone one began, and only while nothing came after", async () => {
    const { change: first } = await change({ validFrom: new Date(NOW - HOUR).toISOString() });
    world.now = NOW + HOUR;
    await undoChange(world.write, CURATOR, first, { reason: "too tight" });
    expect(await inForce()).toMatchObject([
      { months: [BAND], validFrom: NOW - HOUR, setBy: "curator", reason: "too tight" },
    ]);
    expect((await readBands(world.read, "reef")).bands).toHaveLength(3);
    await expect(undoChange(world.write, CURATOR, first, { reason: "once more" })).rejects.toMatchObject({
      code: "conflict",
    });
    const { change: second } = await change();
    world.now = NOW + 2 * HOUR;
    await change({ reason: "after all wider" });
    await expect(undoChange(world.write, CURATOR, second, { reason: "not so" })).rejects.toMatchObject({
      code: "conflict",
    });
  });

  test("for a point leaves the one for the whole system alone", async () => {
    await change({ point: "sump" });
    expect((await inForce()).map((row) => row.point).sort()).toEqual([null, "sump"].sort());
  });

  test.each<[string, object, string]>([
    ["edges the wrong way round", { months: [{ ...tighter, low: 27 }] }, "months.0"],
    ["a limit inside the band", { months: [{ ...tighter, actionHigh: 25.5 }] }, "months.0"],
    [
      "no edge at all",
      {
        months: [
          { low: null, high: null, actionLow: null, actionHigh: null, urgentLow: null, urgentHigh: null },
        ],
      },
      "months.0",
    ],
    ["three months", { months: [tighter, tighter, tighter] }, "months"],
    ["a state", { quantity: "pump" }, "quantity"],
    ["an unknown point", { point: "moon" }, "point"],
    ["no reason", { reason: undefined }, "reason"],
    ["no source", { source: undefined }, "source"],
    ["a beginning in ten years", { validFrom: new Date(NOW + 87_600 * HOUR).toISOString() }, "validFrom"],
  ])("with %s is refused by name, and nothing is written", async (_claim, more, field) => {
    await expect(change(more)).rejects.toMatchObject({
      issues: expect.arrayContaining([expect.objectContaining({ field })]),
    });
    expect((await world.store.verifyAudit()).rows).toBe(0);
  });
});

describe("a system", () => {
  const pool = {
    site: "harbour",
    code: "pup-pool",
    name: "Pup Pool",
    kind: "rays, born here",
    type: "nursery",
    startingBands: "tropical marine",
    water: "marine",
    volume: 6,
  };

  test("is set up with its points and is there at once", async () => {
    await addSystem(world.write, CURATOR, { ...pool, points: ["display", "sump"] });
    const view = await readSystemSetUp(world.read, "pup-pool");
    expect(systemSetUpView.parse(view)).toEqual(view);
    expect(view.points.map((point) => point.code)).toEqual(["display", "sump"]);
    expect(view).toMatchObject({ type: "nursery", startingBands: "tropical marine", youngFilter: true });
    await addPoint(world.write, CURATOR, "pup-pool", { code: "display-2", twinOf: "display" });
    expect((await readSystemSetUp(world.read, "pup-pool")).points.at(1)).toMatchObject({ twinOf: "display" });
    await expect(addSystem(world.write, CURATOR, pool)).rejects.toMatchObject({ code: "conflict" });
    await expect(addPoint(world.write, CURATOR, "pup-pool", { code: "sump" })).rejects.toMatchObject({
      code: "conflict",
    });
    await expect(addSystem(world.write, CURATOR, { ...pool, code: "Pup Pool" })).rejects.toMatchObject({
      code: "invalid",
    });
    await expect(addSystem(world.write, CURATOR, { ...pool, type: "puddle" })).rejects.toMatchObject({
      issues: [{ field: "type", remedy: expect.stringContaining("quarantine") }],
    });
    await expect(addSystem(world.write, CURATOR, { ...pool, site: "moon" })).rejects.toMatchObject({
      code: "not_found",
    });
  });

  test("is changed with a reason, and changed back", async () => {
    const { change: number } = await changeSystem(world.write, CURATOR, "reef", {
      volume: 12.5,
      reason: "measured",
    });
    expect(await readSystemSetUp(world.read, "reef")).toMatchObject({ volume: 12.5 });
    await undoChange(world.write, CURATOR, number, { reason: "measured wrongly" });
    expect(await readSystemSetUp(world.read, "reef")).toMatchObject({ volume: 10 });
    await expect(undoChange(world.write, CURATOR, number, { reason: "again" })).rejects.toMatchObject({
      code: "conflict",
    });
    await expect(changeSystem(world.write, CURATOR, "reef", { reason: "nothing" })).rejects.toMatchObject({
      code: "invalid",
    });
  });
});

test("what is expected of a stream is changed, and changed back", async () => {
  const { id } = await world.stream("reef", "display", "temperature");
  const { change: number } = await changeStream(world.write, CURATOR, id, {
    intervalSeconds: 60,
    critical: false,
    reason: "new logger",
  });
  const stream = async () =>
    (await readSystemSetUp(world.read, "reef")).streams.find((row) => row.stream === id);
  expect(await stream()).toMatchObject({ intervalSeconds: 60, critical: false });
  await undoChange(world.write, CURATOR, number, { reason: "old logger back" });
  expect(await stream()).toMatchObject({ intervalSeconds: 300, critical: true });
});

describe("what a probe's numbers stand on", () => {
  const TRIS = { phScale: "total", phOffset: 0.03, reason: "calibrated in tris" };
  const since = (at: number) => ({ basisFrom: new Date(at).toISOString() });
  const lastJudged = async () => (await world.store.journalAfter(0, 100)).at(-1)?.rejudge;

  test("holds from its calibration to the next, is said in words, and has the water judged again from there", async () => {
    const { id } = await world.stream("reef", "display", "ph");
    const basis = async () =>
      (await readSystemSetUp(world.read, "reef")).streams.find((row) => row.stream === id)?.basis;
    expect((await basis())?.map(({ from, words }) => [from, words])).toEqual([[null, "NBS scale"]]);
    await changeStream(world.write, CURATOR, id, { ...TRIS, ...since(NOW - HOUR) });
    expect(await lastJudged()).toEqual({ system: "s-reef", from: NOW - HOUR });
    const { change: number } = await changeStream(world.write, CURATOR, id, {
      phOffset: 0,
      reason: "an older one, found in the book",
      ...since(NOW - 3 * HOUR),
    });
    const after = await basis();
    expect(after?.map(({ from, words }) => [from, words])).toEqual([
      [null, "NBS scale"],
      [NOW - 3 * HOUR, "NBS scale"],
      [NOW - HOUR, "total scale, probe's own offset +0.03"],
    ]);
    const view = await readSystemSetUp(world.read, "reef");
    expect(systemSetUpView.parse(view)).toEqual(view);
    await changeStream(world.write, CURATOR, id, { phOffset: -0.1, reason: "read too high" });
    await expect(undoChange(world.write, CURATOR, number, { reason: "wrong book" })).rejects.toMatchObject({
      code: "conflict",
    });
  });

  test("is undone with its past", async () => {
    const { id } = await world.stream("reef", "display", "ph");
    const { change: number } = await changeStream(world.write, CURATOR, id, {
      ...TRIS,
      ...since(NOW - HOUR),
    });
    await undoChange(world.write, CURATOR, number, { reason: "the wrong probe" });
    expect(await lastJudged()).toEqual({ system: "s-reef", from: NOW - HOUR });
    expect((await world.store.readSetUp()).streams.find((row) => row.id === id)).not.toHaveProperty("basis");
  });

  test.each<[string, string, object, string]>([
    ["a scale for ORP", "orp", TRIS, "phScale"],
    ["an electrode for pH", "ph", { electrode: "ag-agcl-3m", reason: "new probe" }, "electrode"],
    ["an offset of two", "ph", { phOffset: 2, reason: "far off" }, "phOffset"],
    ["a calibration tomorrow", "ph", { ...TRIS, ...since(NOW + 24 * HOUR) }, "basisFrom"],
    ["a time with nothing to apply to", "ph", { reason: "only a date", ...since(NOW) }, "basisFrom"],
    ["a scale of its own", "ph", { phScale: "mine", reason: "new scale" }, "phScale"],
  ])("refuses %s by name", async (_claim, quantity, body, field) => {
    const { id } = await world.stream("reef", "display", quantity);
    await expect(changeStream(world.write, CURATOR, id, body)).rejects.toMatchObject({
      issues: expect.arrayContaining([expect.objectContaining({ field })]),
    });
  });
});

test("what made something, or is no change of set-up, cannot be undone, and says so", async () => {
  const { change: number } = await addPoint(world.write, CURATOR, "reef", { code: "outlet" });
  await expect(undoChange(world.write, CURATOR, number, { reason: "not so" })).rejects.toMatchObject({
    code: "conflict",
  });
  await expect(undoChange(world.write, CURATOR, 99, { reason: "not so" })).rejects.toMatchObject({
    code: "not_found",
  });
  await expect(undoChange(world.write, CURATOR, Number.NaN, { reason: "not so" })).rejects.toMatchObject({
    code: "not_found",
  });
});
