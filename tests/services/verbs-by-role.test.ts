/** Every verb as every role: permission is proven inside the verb, whatever edge it is called from. */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { ROLES, type Role } from "#core/people/index.ts";
import { AppError } from "#services/errors.ts";
import { readImports } from "#services/importing/import-readings.ts";
import { changeOwnPassword } from "#services/people/change-own-password.ts";
import { createScope } from "#services/scope.ts";
import { type Fixture, VERBS } from "./verbs.ts";
import { openFixture } from "./verbs-fixture.ts";
import { actorWith } from "./world.ts";

/** Everybody's own: tried on its own below. */
const OWN: ReadonlySet<string> = new Set(["changeOwnPassword"]);
/** Answers with what belongs to the actor's systems: tried on its own below. */
const NARROWED: ReadonlySet<string> = new Set(["readImports"]);

let fixture: Fixture;
beforeEach(async () => {
  fixture = await openFixture();
});
afterEach(() => fixture.world.dispose());

const forbidden = { name: "AppError", code: "forbidden" };
const audits = async () => (await fixture.world.store.verifyAudit()).rows;

describe.each(Object.entries(VERBS))("%s", (_name, verb) => {
  test("is done by who may, with one audit row, and refused to every other role without a trace", async () => {
    const refused = ROLES.filter((role) => !verb.may.includes(role));
    const before = await audits();
    for (const role of refused)
      await expect(verb.call(fixture, actorWith(role, role)), role).rejects.toMatchObject(forbidden);
    expect(await audits()).toBe(before);
    const [role] = verb.may;
    await verb.call(fixture, actorWith(role as Role, "doer"));
    expect((await audits()) - before).toBe(verb.writes ? 1 : 0);
    if (verb.writes)
      expect(await fixture.world.store.readAudit({ limit: 1 })).toMatchObject([{ actor: "doer" }]);
  });

  test("is done by every role that may", async () => {
    for (const role of verb.may.slice(1)) {
      const outcome = await verb.call(fixture, actorWith(role, role)).then(
        () => "done",
        (error: unknown) => error,
      );
      // A second one may meet what the first has done; only the refusal of the role counts here.
      if (outcome !== "done") expect(outcome).not.toMatchObject(forbidden);
    }
  });

  test("is refused to nobody in particular, to another system's holder, and before a one-time password is changed", async () => {
    const [role] = verb.may;
    const actor = actorWith(role as Role, "doer");
    const grants = [{ role: role as Role, site: null, system: "s-kelp" }];
    for (const other of [
      { ...actor, grants: [] },
      { ...actor, grants },
      { ...actor, mustChange: true },
    ])
      await expect(verb.call(fixture, other)).rejects.toMatchObject(forbidden);
    if (!verb.placed) return;
    await verb.call(fixture, { ...actor, grants: [{ role: role as Role, site: null, system: "s-reef" }] });
  });
});

const ROOT = join(import.meta.dirname, "../..");

/** Every source file below a folder, however deep: a verb must not escape by standing in a subfolder. */
const textsBelow = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((file) => /\.tsx?$/.test(file))
    .map((file) => readFileSync(join(folder, file), "utf8"));

/** Names of exported verbs that take an actor and are called by the dashboard. */
function verbsIn(services: readonly string[], dashboard: string): string[] {
  const signature = /export async function (\w+)\(([^)]*(?:\([^)]*\)[^)]*)*)\)/g;
  const called = (name: string) => new RegExp(`\\b${name}\\b`).test(dashboard);
  const found = services.flatMap((text) =>
    [...text.matchAll(signature)]
      .filter(([, name = "", parameters = ""]) => /\bactor: Actor\b/.test(parameters) && called(name))
      .map(([, name = ""]) => name),
  );
  return [...new Set(found)].filter((name) => !OWN.has(name) && !NARROWED.has(name)).sort();
}

test("no verb that takes an actor is missing from the table", () => {
  const dashboard = textsBelow(join(ROOT, "app")).join("\n");
  expect(verbsIn(textsBelow(join(ROOT, "lib/services")), dashboard)).toEqual(Object.keys(VERBS).sort());
});

test("a verb planted two folders down is found", () => {
  const folder = mkdtempSync(join(tmpdir(), "homewater-verbs-"));
  try {
    mkdirSync(join(folder, "bench/answers"), { recursive: true });
    const planted = "export async function drainPool(write: WriteDeps, actor: Actor): Promise<void> {}\n";
    writeFileSync(join(folder, "bench/answers/drain-pool.ts"), planted);
    expect(verbsIn(textsBelow(folder), "await drainPool(write, actor)")).toEqual(["drainPool"]);
    expect(verbsIn(textsBelow(folder), "nobody calls it")).toEqual([]);
  } finally {
    rmSync(folder, { recursive: true });
  }
});

test("imports are listed to who may import into every system they reached", async () => {
  const { write } = fixture.world;
  const curator = (at: string | null) => ({
    ...actorWith("curator", "x"),
    grants: [{ role: "curator" as const, site: null, system: at }],
  });
  for (const role of ROLES.filter((one) => one !== "curator"))
    await expect(readImports(write, actorWith(role, role))).rejects.toMatchObject(forbidden);
  for (const at of [null, "s-reef"])
    expect((await readImports(write, curator(at))).imports).toMatchObject([{ id: fixture.import }]);
  expect(await readImports(write, curator("s-kelp"))).toEqual({ imports: [] });
});

test("one's own password is nobody else's to change, and a program has none", async () => {
  const actor = { ...actorWith("viewer", "program"), kind: "token" as const };
  const body = { current: "a", next: "three slow urchins" };
  await expect(changeOwnPassword(fixture.people, actor, "", body)).rejects.toMatchObject(forbidden);
  const ada = { ...actorWith("viewer", "Ada"), id: "person-ada" };
  await expect(changeOwnPassword(fixture.people, ada, "", body)).rejects.toMatchObject({
    code: "invalid",
    issues: [{ field: "current" }],
  });
});

test("what is read is narrowed to the systems of a grant, and refused to who has none", async () => {
  const { world } = fixture;
  const scope = createScope(world.read);
  expect(() => scope({ ...actorWith("viewer", "x"), grants: [] })).toThrow(AppError);
  for (const role of ROLES) expect(scope(actorWith(role, role))).toBe(world.read);
  const narrow = scope({
    ...actorWith("viewer", "x"),
    grants: [{ role: "viewer", site: null, system: "s-kelp" }],
  });
  const index = await narrow.setUp.read();
  expect([...index.byCode.keys()]).toEqual(["kelp"]);
  expect(index.setUp.points.every((point) => point.system === "s-kelp")).toBe(true);
  const site = scope({
    ...actorWith("viewer", "x"),
    grants: [{ role: "viewer", site: "site-1", system: null }],
  });
  expect([...(await site.setUp.read()).byCode.keys()].sort()).toEqual(["kelp", "reef"]);
});
