import { afterEach, beforeEach, expect, test } from "vitest";
import { forecastView } from "#contract/forecast.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { readForecast } from "#services/overnight/read-forecast.ts";
import type { Stream } from "#store/port.ts";
import { band, finding, NOW, openWorld, rollup, system, type World } from "../world.ts";

let world: World;
let stream: Stream;
beforeEach(async () => {
  world = await openWorld([system("reef")], [band("reef")]);
  stream = await world.stream("reef", "display", "temperature");
});
afterEach(() => world.dispose());

/** Three weeks of quarter-hour means, rising by so much a day. */
const rising = (perDay: number) =>
  Array.from({ length: 21 * 96 }, (_, i) => {
    const start = NOW - (NOW % HOUR) - (21 * 96 - i) * 15 * MINUTE;
    const hours = (start - NOW) / HOUR;
    return rollup(stream, 15 * MINUTE, start, [
      26.5 + (perDay * hours) / 24 + 0.2 * Math.sin((2 * Math.PI * hours) / 24) + 0.01 * Math.sin(i),
    ]);
  });

test("a proven trend reaches the action limit between two times; without one nothing is said of it", async () => {
  await world.evaluated({ rollups: rising(0.5) });
  const up = forecastView.parse(await readForecast(world.read, "reef", { quantity: "temperature" }));
  expect(up.perDay).toBeCloseTo(0.5, 1);
  expect(up.ahead.map((row) => row.hours)).toEqual([6, 24, 72]);
  const high = up.limits.find((row) => row.side === "high");
  expect(high?.earliest).toBeGreaterThan(24);
  expect(high?.says).toMatch(/^Temperature 29\.0 °C: (between|in) \d+ h .*\((90 % interval|rough)\)$/);
  expect(up.limits.find((row) => row.side === "low")?.says).toBe(
    "Temperature 22.0 °C: not expected within 7 days",
  );
  await world.evaluated({ rollups: rising(0) });
  const still = await readForecast(world.read, "reef", { quantity: "temperature" });
  expect(still.perDay).toBe(0);
  expect(still.limits.every((row) => row.earliest === null)).toBe(true);
});

test("a doubtful probe is not forecast, nor what is carried from a test, nor what there is not", async () => {
  await world.evaluated({
    rollups: rising(0.5),
    findings: [finding(stream, { kind: "drifting", rule: "bench", evidence: { apart: 0.4 } })],
  });
  expect(await readForecast(world.read, "reef", { quantity: "temperature" })).toMatchObject({
    ahead: [],
    limits: [],
    says: "No forecast: the probe itself is suspect.",
  });
  await expect(readForecast(world.read, "reef", { quantity: "unionised_ammonia" })).rejects.toMatchObject({
    code: "invalid",
  });
  await expect(readForecast(world.read, "reef", { quantity: "ph" })).rejects.toMatchObject({
    code: "not_found",
  });
});

test("too little is said to be too little", async () => {
  await world.evaluated({ rollups: rising(0.5).slice(-96) });
  const view = await readForecast(world.read, "reef", { quantity: "temperature" });
  expect(view).toMatchObject({
    ahead: [],
    says: "No forecast: it needs two days of readings, and there are 24 hours so far.",
  });
  expect(view.now - DAY).toBeGreaterThan(0);
});
