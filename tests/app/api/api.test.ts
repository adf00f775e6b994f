import { readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import type * as z from "zod";
import { benchAnswer, problem, readingsAnswer } from "#contract/answers.ts";
import { ENDPOINTS, type Endpoint, type EndpointName } from "#contract/endpoints.ts";
import { openApiDocument } from "#contract/openapi.ts";
import { MINUTE } from "#core/time/instant.ts";
import { alarm, current, finding, NOW } from "#tests/services/world.ts";
import { type Api, openApi } from "./api-world.ts";

const [
  health,
  systems,
  one,
  state,
  series,
  overnight,
  alarms,
  bench,
  readings,
  rejected,
  arrivals,
  unclaimed,
  document,
] = await Promise.all([
  import("#app/api/v1/health/route.ts"),
  import("#app/api/v1/systems/route.ts"),
  import("#app/api/v1/systems/[system]/route.ts"),
  import("#app/api/v1/systems/[system]/state/route.ts"),
  import("#app/api/v1/systems/[system]/series/route.ts"),
  import("#app/api/v1/overnight/route.ts"),
  import("#app/api/v1/alarms/route.ts"),
  import("#app/api/v1/bench-tests/route.ts"),
  import("#app/api/v1/readings/route.ts"),
  import("#app/api/v1/rejected/route.ts"),
  import("#app/api/v1/arrivals/route.ts"),
  import("#app/api/v1/unclaimed/route.ts"),
  import("#app/api/v1/openapi.json/route.ts"),
]);

let api: Api;
beforeEach(async () => {
  api = await openApi();
});
afterEach(() => api.dispose());

async function aMorning() {
  const reef = await api.stream("reef", "display", "temperature");
  const open = finding(reef);
  const source = await api.store.ensureSource("gateway-1", "gateway");
  await api.store.append({
    now: NOW,
    readings: [
      { stream: reef.id, at: NOW - MINUTE, value: 27.9, source: source.id, sequence: null, mark: null },
    ],
    rejected: [
      { topic: "a/b", reason: "not a number", sample: new Uint8Array([65]), bytes: 1, source: "gateway-1" },
    ],
    unclaimed: [
      { topic: "homewater/x/y/z/ph", readings: [{ at: NOW, value: 8, unit: null }], source: source.id },
    ],
  });
  await api.evaluated({
    current: [current(reef, 27.9, { deviation: 0.45 })],
    findings: [open],
    alarms: [alarm(open)],
  });
}

/** True to the last key: what is not in the schema would be missing from the document. */
function isExactly(schema: z.ZodType, body: unknown): void {
  expect(schema.parse(body)).toEqual(body);
}

describe("every answer is what the document says", () => {
  const reef = { params: { system: "reef" } };
  test.each<[EndpointName, Parameters<Api["ask"]>[0], string, Parameters<Api["ask"]>[2]]>([
    ["health", health.GET, "/health", {}],
    ["systems", systems.GET, "/systems", {}],
    ["system", one.GET, "/systems/reef", reef],
    ["state", state.GET, "/systems/reef/state", reef],
    ["series", series.GET, "/systems/reef/series?quantity=temperature&points=10", reef],
    ["overnight", overnight.GET, "/overnight", {}],
    ["alarms", alarms.GET, "/alarms?active=true", {}],
    ["rejected", rejected.GET, "/rejected?limit=5", {}],
    ["arrivals", arrivals.GET, "/arrivals", {}],
    ["unclaimed", unclaimed.GET, "/unclaimed", {}],
  ])("%s", async (name, method, path, options) => {
    await aMorning();
    const { status, body, headers } = await api.ask(method, path, options);
    expect(status).toBe(200);
    expect(headers.get("cache-control")).toBe("no-store");
    const { answer } = ENDPOINTS[name] as Endpoint;
    if (!answer) throw new Error(`${name} has no schema`);
    isExactly(answer, body);
  });

  test("the morning is in it: a finding, an alarm, a refused message, an unclaimed topic", async () => {
    await aMorning();
    const { body } = await api.ask(systems.GET, "/systems");
    expect(body).toMatchObject({
      systems: [
        { system: "reef", standing: "look", findings: [{ alarm: { state: "UNACK" } }] },
        { system: "kelp" },
      ],
    });
    expect((await api.ask(rejected.GET, "/rejected")).body).toMatchObject({ rejected: [{ sample: "A" }] });
  });
});

describe("writing", () => {
  const test1 = {
    clientId: "phone-1",
    system: "reef",
    point: "display",
    sampledAt: new Date(NOW - MINUTE).toISOString(),
    results: [{ quantity: "ph", value: "8.10", unit: "[pH]" }],
  };

  test("a bench test is stored once, however often it is sent", async () => {
    const first = await api.ask(bench.POST, "/bench-tests", { body: test1 });
    expect(first.status).toBe(200);
    isExactly(benchAnswer, first.body);
    const second = await api.ask(bench.POST, "/bench-tests", { body: test1 });
    expect(second.body).toMatchObject({ repeated: true, id: benchAnswer.parse(first.body).id });
  });

  test("readings are stored before they are answered, and not twice", async () => {
    const body = {
      readings: [
        {
          system: "reef",
          point: "display",
          quantity: "temperature",
          at: NOW - MINUTE,
          value: 77.9,
          unit: "[degF]",
        },
      ],
    };
    const first = await api.ask(readings.POST, "/readings", { body });
    isExactly(readingsAnswer, first.body);
    expect(first.body).toMatchObject({ outcome: "accepted", stored: 1 });
    expect((await api.ask(readings.POST, "/readings", { body })).body).toMatchObject({
      stored: 0,
      duplicates: 1,
    });
    const raw = await api.ask(series.GET, "/systems/reef/series?quantity=temperature&resolution=raw", {
      params: { system: "reef" },
    });
    // 77.9 °F is 25.5 °C: (77.9 - 32) * 5 / 9.
    expect(raw.body).toMatchObject({ columns: { mean: [expect.closeTo(25.5, 9)] } });
  });

  test.each<[string, Parameters<Api["ask"]>[2], number, object]>([
    ["no body", { body: "" }, 400, {}],
    ["text that is not JSON", { body: "{" }, 400, {}],
    ["another type", { body: test1, headers: { "content-type": "text/plain" } }, 415, {}],
    ["more than 4 MiB", { body: JSON.stringify("x".repeat(5 * 1024 * 1024)) }, 413, {}],
    [
      "an unknown key",
      { body: { ...test1, analyst: "me" } },
      422,
      { issues: [{ remedy: 'remove "analyst"' }] },
    ],
    [
      "a blank",
      { body: { ...test1, results: [{ quantity: "ph", value: "", unit: "[pH]" }] } },
      422,
      { issues: [{ field: "results.0.value", says: "is blank" }] },
    ],
    [
      "an unknown system",
      { body: { ...test1, system: "atlantis" } },
      404,
      { issues: [{ field: "system", value: "atlantis" }] },
    ],
    ["no token and no page of ours", { body: test1, headers: { authorization: "" } }, 401, {}],
  ])("%s is refused as problem details", async (_claim, options, status, more) => {
    const refused = await api.ask(bench.POST, "/bench-tests", options);
    expect(refused.headers.get("content-type")).toBe("application/problem+json");
    isExactly(problem, refused.body);
    expect(refused.body).toMatchObject({ status, ...more });
    expect(refused.status).toBe(status);
    if (status === 401) expect(refused.headers.get("www-authenticate")).toBe("Bearer");
  });
});

describe("reading is refused by name", () => {
  test.each([
    ["an unknown parameter", "?quantity=temperature&colour=red", 'remove "colour"'],
    ["a parameter given twice", "?quantity=temperature&quantity=ph", "give it once"],
    ["too many points", "?quantity=temperature&points=5001", "give at most 5000"],
    ["no points", "?quantity=temperature&points=0", "give at least 1"],
    ["points that are no number", "?quantity=temperature&points=many", "give a number"],
    ["blank points", "?quantity=temperature&points=", "give a number"],
    [
      "a time without an offset",
      "?quantity=temperature&from=2026-03-01T00:00:00",
      "add Z or one like +01:00",
    ],
    ["seconds instead of milliseconds", "?quantity=temperature&from=1772434800", /milliseconds/],
    ["a range of more than 20 years", "?quantity=temperature&from=0", "ask for at most 20 years"],
    ["a resolution there is not", "?quantity=temperature&resolution=1min", /raw, 15min, 3h, day/],
  ])("%s", async (_claim, query, remedy) => {
    await aMorning();
    const { status, body } = await api.ask(series.GET, `/systems/reef/series${query}`, {
      params: { system: "reef" },
    });
    expect(status).toBe(422);
    expect(problem.parse(body).issues?.[0]?.remedy).toMatch(remedy);
  });

  test("without a token a page of another site gets nothing, and health alone is open", async () => {
    const foreign = {
      headers: { authorization: "", "sec-fetch-site": "cross-site", origin: "https://evil.example" },
    };
    // An empty Authorization header is still one: it is left out by a real browser.
    const asked = (path: string) =>
      new Request(`http://localhost:3000/api/v1${path}`, {
        headers: { host: "localhost:3000", "sec-fetch-site": "cross-site" },
      });
    const refused = await systems.GET(asked("/systems"), { params: Promise.resolve({}) });
    expect(refused.status).toBe(403);
    const open = await health.GET(asked("/health"), { params: Promise.resolve({}) });
    expect(open.status).toBe(200);
    expect(Object.keys((await open.json()) as object)).toEqual(["ok", "version", "schema"]);
    expect((await api.ask(systems.GET, "/systems", foreign)).status).toBe(401);
  });

  test("what breaks inside is logged under a reference, and only that is told", async () => {
    const logged = vi.spyOn(console, "error").mockReturnValue();
    await api.store.close();
    const { status, body } = await api.ask(systems.GET, "/systems");
    expect(status).toBe(503);
    const { reference, detail } = problem.parse(body);
    expect(detail).not.toMatch(/sqlite|\.db|at /i);
    expect(logged).toHaveBeenCalledWith(expect.stringContaining(String(reference)));
  });
});

describe("the document", () => {
  const doc = openApiDocument("1.2.3") as {
    openapi: string;
    paths: Record<string, Record<string, object>>;
    components: { schemas: Record<string, unknown> };
  };

  test("is served, and is OpenAPI 3.1", async () => {
    const { body, status } = await api.ask(document.GET, "/openapi.json");
    expect(status).toBe(200);
    expect(body).toMatchObject({ openapi: "3.1.0", info: { title: "Homewater" } });
  });

  test("every route file is in it, and it promises nothing that has none", async () => {
    const root = join(import.meta.dirname, "../../../app/api/v1");
    const files = readdirSync(root, { recursive: true, encoding: "utf8" }).filter((file) =>
      file.endsWith("route.ts"),
    );
    const offered = await Promise.all(
      files.map(async (file) => {
        const module = (await import(join(root, file))) as object;
        const methods = Object.keys(module).filter((key) => /^[A-Z]+$/.test(key));
        return methods.map(
          (method) => `${method.toLowerCase()} /${dirname(file).replaceAll("[", "{").replaceAll("]", "}")}`,
        );
      }),
    );
    const promised = Object.entries(doc.paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method} ${path}`),
    );
    expect(promised.sort()).toEqual(offered.flat().sort());
    expect(promised.length).toBe(Object.keys(ENDPOINTS).length);
  });

  test("every reference in it leads somewhere, and every schema in it is used", () => {
    const used = new Set(
      [...JSON.stringify(doc).matchAll(/"\$ref":"#\/components\/schemas\/(\w+)"/g)].map(([, name]) => name),
    );
    expect([...used].sort()).toEqual(Object.keys(doc.components.schemas).sort());
  });

  test("says of a query what the handler checks", () => {
    const get = doc.paths["/systems/{system}/series"]?.get ?? {};
    const { parameters } = get as { parameters: { name: string; required: boolean; schema: object }[] };
    const named = Object.fromEntries(parameters.map((row) => [row.name, row]));
    expect(named.quantity).toMatchObject({ required: true });
    expect(named.points).toMatchObject({
      required: false,
      schema: { type: "integer", minimum: 1, maximum: 5000 },
    });
    expect(Object.keys(named)).toEqual([
      "system",
      "quantity",
      "point",
      "origin",
      "from",
      "to",
      "points",
      "resolution",
    ]);
  });
});
