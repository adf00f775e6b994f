/** Spans of an odd number of milliseconds have no whole middle: every address that takes instants answers them, on both stores. */
import { expect, it } from "vitest";
import { ENDPOINTS, type Endpoint } from "#contract/endpoints.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { inEachStore, type OpenStore } from "#tests/helpers/each-store.ts";
import { callRoute } from "#tests/nights/routes.ts";
import { BAND, band, NOW, system } from "#tests/services/world.ts";
import { openApi } from "./api-world.ts";

const INSTANTS = ["from", "to", "at"] as const;
const GIVEN: Readonly<Record<string, string>> = {
  quantity: "temperature",
  point: "display",
  month: "2026-03",
  system: "reef",
};
const monthly = Array.from({ length: 12 }, (_, month) => ({ ...BAND, high: 27 + month / 100 }));

const SPANS = [
  { from: NOW - DAY - 1, to: NOW },
  { from: NOW - 30 * DAY - 7, to: NOW - 2 },
  { from: NOW - 3 * HOUR, to: NOW - HOUR - 333 },
] as const;

/** The addresses that take an instant, with each of these spans in it. */
function addresses(): string[] {
  const endpoints: readonly Endpoint[] = Object.values(ENDPOINTS);
  return endpoints.flatMap(({ method, path, query, media }) => {
    const names = Object.keys(query?.shape ?? {});
    const asked = INSTANTS.filter((name) => names.includes(name));
    if (method !== "get" || asked.length === 0 || media === "text/event-stream") return [];
    const rest = names.flatMap((name) => (GIVEN[name] === undefined ? [] : [`${name}=${GIVEN[name]}`]));
    return SPANS.map((span) => {
      const instants = asked.map(
        (name) => `${name}=${new Date(name === "from" ? span.from : span.to).toISOString()}`,
      );
      return `${path.replace("{system}", "reef")}?${[...instants, ...rest].join("&")}`;
    });
  });
}

function suite(open: OpenStore): void {
  it("answers every one of them", { timeout: 120_000 }, async () => {
    const api = await openApi([system("reef")], [band("reef", { months: monthly })], open);
    const stream = await api.stream("reef", "display", "temperature");
    const source = await api.store.ensureSource("gateway-1", "gateway");
    await api.store.append({
      now: NOW,
      readings: [1, 2, 3].map((n) => ({
        ...{ stream: stream.id, at: NOW - n * 5 * MINUTE - 1, value: 25 + n / 10, source: source.id },
        ...{ sequence: null, mark: null },
      })),
      rejected: [],
      unclaimed: [],
    });
    api.now = NOW + 1;
    const asked = addresses();
    expect(asked.filter((path) => path.startsWith("/systems/reef/series"))).toHaveLength(SPANS.length);
    const failed: string[] = [];
    for (const path of asked) {
      const { status } = await api.ask(callRoute, path);
      if (status !== 200 && status !== 404) failed.push(`${status} ${path}`);
    }
    expect(failed).toEqual([]);
    const ofMonths = await api.ask(callRoute, asked.find((path) => path.includes("/series?")) ?? "");
    expect(ofMonths).toMatchObject({
      status: 200,
      body: { bands: [{ edges: { low: 24 } }, { edges: { low: 24 } }] },
    });
    await api.dispose();
  });
}

inEachStore("spans of odd milliseconds", { sqlite: suite, postgres: suite });
