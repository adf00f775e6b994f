import { afterEach, beforeEach, expect, test } from "vitest";
import { hashOfToken } from "#services/people/tokens.ts";
import { NOW } from "#tests/services/world.ts";
import { type Api, openApi } from "./api-world.ts";

const [health, metrics] = await Promise.all([
  import("#app/api/v1/health/route.ts"),
  import("#app/metrics/route.ts"),
]);
let api: Api;
beforeEach(async () => {
  api = await openApi();
});
afterEach(() => api.dispose());

async function token(role: "viewer" | "technician" | "administrator"): Promise<Record<string, string>> {
  const audit = { at: NOW, actor: "t", actorId: "t", verb: "add-token", subject: role, record: {} };
  await api.store.addToken(
    {
      id: role,
      name: role,
      hash: hashOfToken(`hw_${role}`),
      role,
      site: null,
      system: null,
      madeBy: "t",
      made: NOW,
      expires: NOW * 2,
      revoked: null,
    },
    audit,
  );
  return { authorization: `Bearer hw_${role}` };
}
const scrape = (headers: Record<string, string>) =>
  metrics.GET(new Request("http://localhost:3000/metrics", { headers }));

test("health tells a stranger that it answers, a viewer how far it has come, and who looks after the machine everything", async () => {
  const ask = (headers: Record<string, string>) => api.ask(health.GET, "/health", { headers });
  expect((await ask(await token("viewer"))).body).toMatchObject({
    ok: true,
    detail: { behind: { entries: 0 } },
  });
  expect((await ask({ authorization: "Bearer hw_viewer" })).body).not.toHaveProperty("upkeep");
  expect((await ask({ authorization: "Bearer hw_nobody" })).body).toEqual({
    ok: true,
    version: expect.any(String),
    schema: expect.any(Number),
  });
  for (const role of ["technician", "administrator"] as const) {
    const { body } = await ask(await token(role));
    expect(body).toMatchObject({
      upkeep: {
        items: expect.arrayContaining([expect.objectContaining({ id: "backup" })]),
        lease: { expires: expect.any(Number) },
        backups: { last: null, good: null },
      },
    });
  }
  // The token of the environment is a technician's.
  expect((await api.ask(health.GET, "/health")).body).toHaveProperty("upkeep.items");
});

test("health repeats what processes report and when the last backup was verified", async () => {
  const report = {
    memory: 5,
    diskFree: 10,
    diskTotal: 100,
    databaseBytes: 7,
    waiting: 2,
    lastCommitMs: 3,
    failedCommits: 1,
    trouble: null,
    backupMinutes: 15,
  };
  await api.store.reportProcess({ name: "accepting", host: "h", pid: 1, started: NOW - 1, at: NOW, report });
  await api.store.reportProcess({ name: "accepting", host: "h", pid: 2, started: NOW, at: NOW, report });
  const run = {
    file: "a.db",
    bytes: 9,
    began: NOW - 60_000,
    finished: NOW,
    trouble: null,
    readings: 4,
    upTo: NOW,
  };
  await api.store.recordBackup(run);
  await api.store.recordBackup({ ...run, trouble: "no room", readings: null, upTo: null });
  const { body } = await api.ask(health.GET, "/health");
  expect(body).toMatchObject({
    upkeep: {
      processes: [{ name: "accepting", pid: 2, memory: 5, waiting: 2, failedCommits: 1 }],
      disk: { free: 10, total: 100 },
      databaseBytes: 7,
      backups: { good: run, last: { trouble: "no room" } },
    },
  });
});

test("metrics are given to this machine and to a technician's token, and to nobody else", async () => {
  const here = await scrape({ host: "localhost:3000" });
  expect(here.status).toBe(200);
  expect(here.headers.get("content-type")).toBe("text/plain; version=0.0.4; charset=utf-8");
  expect(await here.text()).toMatch(/^# HELP homewater_info /);
  expect((await scrape({ host: "water.example" })).status).toBe(401);
  // While nobody has an account this machine may look at water, not at the machinery through a proxy.
  expect((await scrape({ host: "localhost:3000", "x-forwarded-for": "10.0.0.9" })).status).toBe(403);
  expect((await scrape({ host: "water.example", ...(await token("technician")) })).status).toBe(200);
  expect((await scrape({ host: "localhost:3000", ...(await token("viewer")) })).status).toBe(403);
  expect((await scrape({ host: "localhost:3000", authorization: "Bearer hw_wrong" })).status).toBe(401);
});
