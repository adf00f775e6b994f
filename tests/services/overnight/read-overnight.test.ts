import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { alarmsView } from "#contract/answers.ts";
import { overnightView } from "#contract/views.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { readRejected } from "#services/gateway/read-rejected.ts";
import { readUnclaimed } from "#services/gateway/read-unclaimed.ts";
import { membersOf } from "#services/overnight/overnight-groups.ts";
import { readAlarms } from "#services/overnight/read-alarms.ts";
import { readForecast } from "#services/overnight/read-forecast.ts";
import { readOvernight } from "#services/overnight/read-overnight.ts";
import { readHealth } from "#services/upkeep/read-health.ts";
import type { Stream } from "#store/port.ts";
import {
  alarm,
  band,
  current,
  EVENING,
  finding,
  NOW,
  openWorld,
  rollup,
  system,
  type World,
} from "../world.ts";

/** Quarter-hour means of the last six hours that come to `value`, changing by so much an hour. */
const lastHours = (stream: Stream, value: number, perHour: number) =>
  Array.from({ length: 24 }, (_, i) => {
    const start = NOW - (NOW % (15 * MINUTE)) - (24 - i) * 15 * MINUTE;
    return rollup(stream, 15 * MINUTE, start, [value + (perHour * (start + 7.5 * MINUTE - NOW)) / HOUR]);
  });

let world: World;
beforeEach(async () => {
  world = await openWorld(
    [system("reef"), system("kelp"), system("den")],
    [band("reef"), band("kelp"), band("den")],
  );
});
afterEach(() => world.dispose());

describe("the night", () => {
  test("begins at the last 18:00 site time, also across a clock change", async () => {
    expect(await readOvernight(world.read, {})).toMatchObject({
      from: EVENING,
      to: NOW,
      zone: "Europe/London",
    });
    // 2026-03-29 01:00 UTC the clocks of London go forward (IANA time zone database): 18:00 is 17:00 UTC from then on.
    world.now = Date.UTC(2026, 2, 30, 5);
    expect((await readOvernight(world.read, {})).from).toBe(Date.UTC(2026, 2, 29, 17));
  });

  test("ranks unanswered first, then worsening, then recovering, then what is over", async () => {
    const [reef, kelp, den] = await Promise.all(
      ["reef", "kelp", "den"].map((code) => world.stream(code, "display", "temperature")),
    );
    if (!reef || !kelp || !den) throw new Error("no streams");
    const ph = await world.stream("reef", "display", "ph");
    const rising = finding(reef, { id: "worsening", severity: "action" });
    const falling = finding(kelp, { id: "recovering", severity: "action" });
    const rings = finding(den, { id: "unanswered" });
    const over = finding(ph, {
      id: "over",
      severity: "urgent",
      began: NOW - 9 * HOUR,
      ended: NOW - 8 * HOUR,
    });
    const before = finding(ph, { id: "yesterday", began: NOW - 2 * DAY, ended: NOW - DAY });
    await world.evaluated({
      current: [
        current(reef, 29.4, { deviation: 1.2, rate: 0.3 }),
        current(kelp, 29.4, { deviation: 1.2, rate: -0.3 }),
        current(den, 27.2, { deviation: 0.1, rate: -0.1 }),
      ],
      findings: [over, falling, rising, rings, before],
      alarms: [
        alarm(rings),
        alarm(rising, { state: "ACK", acknowledged: NOW - HOUR, acknowledgedBy: "keeper" }),
      ],
    });
    const view = overnightView.parse(await readOvernight(world.read, {}));
    expect(view.findings.map((row) => row.id)).toEqual(["unanswered", "worsening", "recovering", "over"]);
    expect(view.groups.map(({ group }) => group)).toEqual(["unanswered", "answered", "recovering", "over"]);
    expect(view.summary).toMatchObject({
      unanswered: 2,
      withoutResponse: 1,
      worse: 1,
      recovering: 2,
      calm: 0,
    });
  });

  test("is one row for what belongs together on a system or loop, in order of time, with how long is left", async () => {
    const [reef, kelp, den] = await Promise.all(
      ["reef", "kelp", "den"].map((code) => world.stream(code, "display", "temperature")),
    );
    const ph = await world.stream("reef", "display", "ph");
    if (!reef || !kelp || !den) throw new Error("no streams");
    await world.store.writeSetUp(
      {
        loops: [
          {
            id: "loop",
            site: "site-1",
            code: "chilled-water",
            name: "Chilled water",
            members: ["s-reef", "s-kelp"],
          },
        ],
      },
      [],
      NOW,
    );
    const began = NOW - 5 * HOUR;
    await world.evaluated({
      // 0.25 °C an hour over the last six hours, 28 °C now: 1 °C to go, 4 h.
      current: [current(reef, 28, { deviation: 0.5, rate: 0.25 })],
      rollups: lastHours(reef, 28, 0.25),
      findings: [
        finding(reef, { id: "reef", began }),
        finding(ph, { id: "same system", began: began + 30 * MINUTE, ended: NOW - HOUR }),
        finding(kelp, { id: "same loop", began: began - 20 * MINUTE, ended: NOW - HOUR }),
        finding(den, { id: "elsewhere", began, ended: NOW - HOUR }),
        finding(kelp, { id: "later", began: began + 31 * MINUTE, ended: NOW - HOUR }),
      ],
    });
    const view = overnightView.parse(await readOvernight(world.read, {}));
    const item = view.groups.flatMap(({ items }) => items).find((row) => row.finding === "reef");
    expect(item).toMatchObject({
      course: "worse",
      left: { kind: "reaches", target: "limit", value: 29, isStated: false },
    });
    // What began 31 minutes later did so one minute after another of them.
    expect(item?.others?.map((row) => row.finding)).toEqual(["same loop", "same system", "later"]);
    const rows = view.groups.flatMap(({ items }) => membersOf(items));
    expect(rows.map((row) => row.finding).sort()).toEqual([
      "elsewhere",
      "later",
      "reef",
      "same loop",
      "same system",
    ]);
    if (item?.left.kind !== "reaches") throw new Error("no interval");
    expect(item.left.from / HOUR).toBeCloseTo(4 / 1.25, 1);
    expect((item.left.to ?? 0) / HOUR).toBeCloseTo(4 * 1.25, 1);
  });

  test("how long is left is not within seven days where three weeks prove no trend, and what Forecast says where they do", async () => {
    const [reef, kelp, den] = await Promise.all(
      ["reef", "kelp", "den"].map((code) => world.stream(code, "display", "temperature")),
    );
    if (!reef || !kelp || !den) throw new Error("no streams");
    const out = (stream: Stream) => finding(stream, { id: stream.system, rule: "high", began: NOW - DAY });
    const weeks = (stream: Stream, perDay: number) =>
      Array.from({ length: 21 * 96 }, (_, i) => {
        const start = NOW - (NOW % HOUR) - (21 * 96 - i) * 15 * MINUTE;
        const hours = (start - NOW) / HOUR;
        const day = 0.1 * Math.sin((2 * Math.PI * hours) / 24) + 0.02 * Math.sin(7 * i);
        return rollup(stream, 15 * MINUTE, start, [27.8 + (perDay * hours) / 24 + day]);
      });
    await world.evaluated({
      current: [reef, kelp, den].map((stream) => current(stream, 27.8, { deviation: 0.4, rate: 0.01 })),
      rollups: [...weeks(reef, 0), ...weeks(kelp, 0.4), ...weeks(den, 0.4)],
      findings: [
        out(reef),
        out(kelp),
        out(den),
        finding(den, { id: "probe", kind: "drifting", rule: "bench", began: NOW - DAY }),
      ],
    });
    const leftOf = async (system: string) =>
      (await readOvernight(world.read, {})).groups
        .flatMap(({ items }) => membersOf(items))
        .find((row) => row.finding === `s-${system}`)?.left;
    expect(await leftOf("reef")).toEqual({ kind: "not soon", value: 29 });
    const told = await readForecast(world.read, "kelp", { quantity: "temperature" });
    const limit = told.limits.find((row) => row.side === "high");
    expect(limit?.earliest).toBeGreaterThan(12);
    expect(await leftOf("kelp")).toEqual({
      kind: "reaches",
      target: "limit",
      value: 29,
      from: (limit?.earliest ?? 0) * HOUR,
      to: limit?.latest == null ? null : limit.latest * HOUR,
      isStated: limit?.isStated,
    });
    // Its probe has left the bench: what it reads is no course of the water.
    expect(await leftOf("den")).toEqual({ kind: "not known" });
  });

  test("what is over and unanswered is still read as something to answer", async () => {
    const reef = await world.stream("reef", "display", "temperature");
    const over = finding(reef, { id: "over", ended: NOW - 3 * HOUR });
    await world.evaluated({
      current: [current(reef, 25)],
      findings: [over],
      alarms: [alarm(over, { state: "RTN_UNACK", cleared: NOW - 3 * HOUR })],
    });
    const view = await readOvernight(world.read, {});
    expect(view.groups).toMatchObject([{ group: "ended", items: [{ finding: "over" }] }]);
    expect(view.summary.unanswered).toBe(1);
    expect(view.calm).toEqual(["reef"]);
    expect(view.calmAllNight).toEqual([]);
  });

  test("an alarm that is over and was answered leaves its finding active and answered", async () => {
    const reef = await world.stream("reef", "display", "temperature");
    const seen = finding(reef, { id: "seen", severity: "action" });
    await world.evaluated({
      current: [current(reef, 28, { deviation: 0.5 })],
      findings: [seen],
      alarms: [
        alarm(seen, {
          state: "NORMAL",
          cleared: NOW - HOUR,
          acknowledged: NOW - MINUTE,
          acknowledgedBy: "keeper",
        }),
      ],
    });
    expect((await readOvernight(world.read, {})).groups).toMatchObject([{ group: "answered" }]);
  });

  test("what came back from its action limit and is still out of its band is active and unanswered", async () => {
    const reef = await world.stream("reef", "display", "temperature");
    const milder = finding(reef, { id: "milder", severity: "action" });
    await world.evaluated({
      current: [current(reef, 28, { deviation: 0.5 })],
      findings: [milder],
      alarms: [alarm(milder, { state: "RTN_UNACK", cleared: NOW - HOUR })],
    });
    expect((await readOvernight(world.read, {})).groups).toMatchObject([{ group: "unanswered" }]);
  });

  test("says what is not known and why, and which systems are calm", async () => {
    const reef = await world.stream("reef", "display", "temperature");
    const kelp = await world.stream("kelp", "display", "temperature");
    await world.stream("den", "display", "temperature");
    await world.evaluated({
      current: [current(reef, 25), current(kelp, 25, { at: NOW - 2 * HOUR, silentAt: NOW - HOUR })],
    });
    const view = await readOvernight(world.read, {});
    expect(view.calm).toEqual(["reef"]);
    expect(view.unknown).toEqual([
      { system: "den", quantity: "temperature", since: null, why: "no reading has arrived yet" },
      {
        system: "kelp",
        quantity: "temperature",
        since: NOW - 2 * HOUR,
        why: "no reading has arrived when expected",
      },
    ]);
  });

  test("completeness counts readings, good or not, against the interval; worst first", async () => {
    const reef = await world.stream("reef", "display", "temperature");
    const kelp = await world.stream("kelp", "display", "temperature");
    const expected = (NOW - EVENING) / (5 * MINUTE);
    await world.evaluated({
      rollups: [
        rollup(reef, 3 * HOUR, EVENING, Array(36).fill(25)),
        rollup(reef, 3 * HOUR, EVENING + 3 * HOUR, [], 36),
        rollup(kelp, 3 * HOUR, EVENING, Array(36).fill(25)),
        rollup(kelp, 15 * MINUTE, EVENING, [25, 25, 25]),
      ],
    });
    const { completeness } = await readOvernight(world.read, {});
    expect(completeness).toEqual([
      { system: "kelp", quantity: "temperature", point: "display", expected, got: 36, share: 36 / expected },
      { system: "reef", quantity: "temperature", point: "display", expected, got: 72, share: 72 / expected },
    ]);
  });

  test.each([
    ["more than 31 days", { from: NOW - 32 * DAY, to: NOW }],
    ["that ends before it begins", { from: NOW, to: NOW - HOUR }],
  ])("a window %s is refused", async (_claim, query) => {
    await expect(readOvernight(world.read, query)).rejects.toMatchObject({
      code: "invalid",
      issues: [{ field: "from" }],
    });
  });
});

describe("alarms", () => {
  test("unanswered and gravest first; those back to normal only when asked for", async () => {
    const reef = await world.stream("reef", "display", "temperature");
    const kelp = await world.stream("kelp", "display", "temperature");
    const [a, b, c] = [
      finding(reef, { id: "a" }),
      finding(kelp, { id: "b", severity: "urgent" }),
      finding(reef, { id: "c", ended: NOW - HOUR }),
    ];
    await world.evaluated({
      findings: [a, b, c],
      alarms: [alarm(a), alarm(b), alarm(c, { state: "NORMAL", cleared: NOW - HOUR })],
    });
    const active = alarmsView.parse(await readAlarms(world.read, {}));
    expect(active.alarms.map((row) => row.id)).toEqual(["alarm-b", "alarm-a"]);
    expect(active.alarms[0]).toMatchObject({
      system: "kelp",
      point: "display",
      quantityLabel: "Temperature",
      finding: { id: "b" },
    });
    expect((await readAlarms(world.read, { active: "false" })).alarms).toHaveLength(3);
    expect((await readAlarms(world.read, { system: "reef" })).alarms.map((row) => row.id)).toEqual([
      "alarm-a",
    ]);
    await expect(readAlarms(world.read, { system: "atlantis" })).rejects.toMatchObject({ code: "not_found" });
  });
});

describe("health and what was refused", () => {
  test("says how far evaluation is behind, and nothing of it to a stranger", async () => {
    const reef = await world.stream("reef", "display", "temperature");
    const source = await world.store.ensureSource("gateway-1", "gateway");
    const reading = { stream: reef.id, at: NOW, value: 25, source: source.id, sequence: null, mark: null };
    await world.store.append({ now: NOW, readings: [reading], rejected: [], unclaimed: [] });
    expect(await readHealth(world.read, "1.2.3", false)).toEqual({
      ok: true,
      version: "1.2.3",
      schema: expect.any(Number),
    });
    const { detail } = await readHealth(world.read, "1.2.3", true);
    expect(detail).toMatchObject({ dialect: "sqlite", behind: { entries: 1 }, counts: { readings: 1 } });
  });

  test("a store that does not answer is unavailable, with its cause", async () => {
    await world.store.close();
    await expect(readHealth(world.read, "1.2.3", false)).rejects.toMatchObject({
      code: "unavailable",
      cause: expect.any(Error),
    });
  });

  test("refused messages show their first bytes, unclaimed topics their count", async () => {
    const source = await world.store.ensureSource("gateway-1", "gateway");
    await world.store.append({
      now: NOW,
      readings: [],
      rejected: [
        {
          topic: "a/b",
          reason: "not a number",
          sample: new Uint8Array([0x7b, 0xff]),
          bytes: 2,
          source: "gateway-1",
        },
      ],
      unclaimed: [
        { topic: "homewater/x/y/z/ph", readings: [{ at: NOW, value: 8, unit: null }], source: source.id },
      ],
    });
    const { rejected } = await readRejected(world.read);
    expect(rejected).toEqual([
      expect.objectContaining({ topic: "a/b", reason: "not a number", sample: "{�", bytes: 2, count: 1 }),
    ]);
    expect((await readUnclaimed(world.read)).unclaimed).toEqual([
      expect.objectContaining({ topic: "homewater/x/y/z/ph", count: 1 }),
    ]);
  });
});
