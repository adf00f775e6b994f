/** What a point is for is chosen at set-up, guessed where it is not, and changed with a reason; what hangs on it is judged again. */
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { changeAnswer, systemSetUpView } from "#contract/set-up-forms.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { uuidV7 } from "#services/new-id.ts";
import { addPoint, changePoint } from "#services/set-up/change-point.ts";
import { addSystem } from "#services/set-up/change-system.ts";
import { readSystemSetUp } from "#services/set-up/read-set-up.ts";
import { undoChange } from "#services/set-up/undo-change.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { type TemporaryStore, temporaryStore } from "#tests/helpers/open-store.ts";
import { actorWith, NOW, openWorld, system, type World } from "../world.ts";

const CURATOR = actorWith("curator", "curator");
const REASON = { reason: "looked at the pipes" };

describe("a point's role", () => {
  let world: World;
  beforeEach(async () => {
    world = await openWorld([system("reef")]);
  });
  afterEach(() => world.dispose());
  const points = async (code = "reef") =>
    (await readSystemSetUp(world.read, code)).points.map(({ code: point, role, roleGuessed }) => [
      point,
      role,
      roleGuessed,
    ]);

  test("is what was chosen, and a guess that says so where nothing was", async () => {
    await addPoint(world.write, CURATOR, "reef", { code: "contact-lens-pool", role: "exhibit" });
    await addPoint(world.write, CURATOR, "reef", { code: "make-up" });
    await addPoint(world.write, CURATOR, "reef", { code: "outlet" });
    expect(await points()).toEqual([
      ["contact-lens-pool", "exhibit", false],
      ["display", "exhibit", false],
      ["make-up", "make-up", true],
      ["outlet", "other", true],
      ["sump", "sump", false],
    ]);
  });

  test("comes with the points of a new system, by name alone or with its role; where none is named, one exhibit", async () => {
    const pool = {
      site: "harbour",
      name: "Pool",
      kind: "rays",
      type: "exhibit",
      water: "marine",
      volume: 6,
    };
    const named = ["sump", { code: "treatment-loop", role: "contact-chamber" }, { code: "lagoon" }];
    await addSystem(world.write, CURATOR, { ...pool, code: "one", points: named });
    expect(await points("one")).toEqual([
      ["lagoon", "other", true],
      ["sump", "sump", true],
      ["treatment-loop", "contact-chamber", false],
    ]);
    await addSystem(world.write, CURATOR, { ...pool, code: "two" });
    expect(await points("two")).toEqual([["display", "exhibit", false]]);
    const twice = addSystem(world.write, CURATOR, {
      ...pool,
      code: "three",
      points: ["sump", { code: "sump" }],
    });
    await expect(twice).rejects.toMatchObject({ issues: [{ field: "points" }] });
    const unknown = addSystem(world.write, CURATOR, {
      ...pool,
      code: "three",
      points: [{ code: "sump", role: "moon" }],
    });
    await expect(unknown).rejects.toMatchObject({
      issues: [{ field: "points.0.role", value: "moon", remedy: expect.stringContaining("contact-chamber") }],
    });
  });

  test("is changed with a reason, noted with who did it, and changed back", async () => {
    const answer = await changePoint(world.write, CURATOR, "reef", "sump", { role: "filter", ...REASON });
    expect(changeAnswer.parse(answer)).toEqual(answer);
    expect(answer).toMatchObject({ undoable: true, subject: "point:p-reef-sump" });
    const view = await readSystemSetUp(world.read, "reef");
    expect(systemSetUpView.parse(view)).toEqual(view);
    expect(await points()).toContainEqual(["sump", "filter", false]);
    const row = await world.store.readAuditRow(answer.change);
    expect(row).toMatchObject({ verb: "change-point", actor: CURATOR.name, actorId: CURATOR.id });
    expect(JSON.parse(row?.record ?? "")).toMatchObject({
      before: { role: "sump" },
      after: { role: "filter" },
      ...REASON,
    });
    await undoChange(world.write, CURATOR, answer.change, { reason: "it is the sump" });
    expect(await points()).toContainEqual(["sump", "sump", false]);
    const again = undoChange(world.write, CURATOR, answer.change, { reason: "once more" });
    await expect(again).rejects.toMatchObject({ code: "conflict" });
  });

  test("that was guessed is confirmed by saying the same; undone, it is a guess again", async () => {
    await addPoint(world.write, CURATOR, "reef", { code: "make-up" });
    const { change } = await changePoint(world.write, CURATOR, "reef", "make-up", {
      role: "make-up",
      ...REASON,
    });
    expect(await points()).toContainEqual(["make-up", "make-up", false]);
    const same = changePoint(world.write, CURATOR, "reef", "make-up", { role: "make-up", ...REASON });
    await expect(same).rejects.toMatchObject({ issues: [{ field: "role" }] });
    await undoChange(world.write, CURATOR, change, { reason: "not sure" });
    expect(await points()).toContainEqual(["make-up", "make-up", true]);
  });

  test("is judged from now on, or from the time given; undone, from there again", async () => {
    const newest = async () => (await world.store.journalAfter(0, 100)).at(-1)?.rejudge;
    await changePoint(world.write, CURATOR, "reef", "sump", { role: "filter", ...REASON });
    expect(await newest()).toEqual({ system: "s-reef", from: NOW });
    const from = NOW - 5 * HOUR;
    const { change } = await changePoint(world.write, CURATOR, "reef", "sump", {
      role: "make-up",
      from: new Date(from).toISOString(),
      ...REASON,
    });
    expect(await newest()).toEqual({ system: "s-reef", from });
    world.now = NOW + HOUR;
    await undoChange(world.write, CURATOR, change, { reason: "not so" });
    expect(await newest()).toEqual({ system: "s-reef", from });
  });

  test.each<[string, string, object, object]>([
    ["an unknown role", "sump", { role: "moon", ...REASON }, { issues: [{ field: "role", value: "moon" }] }],
    ["no reason", "sump", { role: "filter" }, { issues: [{ field: "reason" }] }],
    ["a point that is not there", "moon", { role: "filter", ...REASON }, { code: "not_found" }],
    [
      "a time to come",
      "sump",
      { role: "filter", from: new Date(NOW + HOUR).toISOString(), ...REASON },
      { issues: [{ field: "from" }] },
    ],
  ])("with %s is refused by name, and nothing is written", async (_claim, point, body, refusal) => {
    const rows = (await world.store.verifyAudit()).rows;
    await expect(changePoint(world.write, CURATOR, "reef", point, body)).rejects.toMatchObject(refusal);
    expect((await world.store.verifyAudit()).rows).toBe(rows);
  });
});

describe("a point called treatment-loop", () => {
  let temporary: TemporaryStore;
  beforeEach(async () => {
    temporary = await temporaryStore();
  });
  afterEach(() => temporary.dispose());

  test("is judged as a contact chamber, its past too, once it is said to be one", async () => {
    const { store } = temporary;
    const pool = system("reef");
    const site = {
      id: "site-1",
      code: "harbour",
      name: "Harbour Hall",
      zone: "UTC",
      latitude: 0,
      longitude: 0,
    };
    const point = { id: "loop", system: pool.id, code: "treatment-loop", role: "other" as const };
    await store.writeSetUp(
      {
        sites: [{ ...site, elevation: 0 }],
        systems: [pool],
        points: [{ ...point, roleGuessed: true, twinOf: null }],
      },
      [],
      NOW - 9 * HOUR,
    );
    const orp = await store.ensureStream("loop", "orp", "probe", { interval: MINUTE, critical: true });
    const source = await store.ensureSource("gateway", "gateway");
    for (let minute = 0; minute <= 120; minute++) {
      const at = NOW + (minute - 120) * MINUTE;
      const reading = { stream: orp.id, at, value: 600 + minute + (minute % 2) / 10, source: source.id };
      await store.append({
        now: at,
        readings: [{ ...reading, sequence: null, mark: null }],
        rejected: [],
        unclaimed: [],
      });
    }
    const clock = () => NOW;
    const evaluator = await evaluatorOf(store, clock);
    await evaluateAll(evaluator);
    const tooFast = async () =>
      (await store.readFindings({ limit: 100 })).filter(({ kind }) => kind === "too fast").length;
    expect(await tooFast()).toBeGreaterThan(0);

    const deps = { store, clock, setUp: createSetUpReader(store, clock), newId: uuidV7 };
    const from = new Date(NOW - 9 * HOUR).toISOString();
    const { change } = await changePoint(deps, CURATOR, "reef", "treatment-loop", {
      role: "contact-chamber",
      from,
      ...REASON,
    });
    await evaluateAll(evaluator);
    expect(await tooFast()).toBe(0);

    await undoChange(deps, CURATOR, change, { reason: "it is none" });
    await evaluateAll(evaluator);
    expect(await tooFast()).toBeGreaterThan(0);
  });
});
