import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Answer } from "#core/bench/answer.ts";
import { StoreError } from "#store/port.ts";
import { claimsOf, evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { type TemporaryStore, temporaryStore } from "#tests/helpers/open-store.ts";
import { edges, type SmallSite, setUpSmallSite } from "#tests/helpers/small-site.ts";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const T0 = Date.UTC(2026, 8, 1, 8);

let temporary: TemporaryStore;
let site: SmallSite;
beforeEach(async () => {
  temporary = await temporaryStore();
  site = await setUpSmallSite(temporary.store, T0 - HOUR);
});
afterEach(() => temporary.dispose());

interface Given {
  readonly stream: keyof SmallSite["streams"];
  readonly at: number;
  readonly value: number;
}
const reading = (given: Given, source = site.gateway) => ({
  stream: site.streams[given.stream].id,
  at: given.at,
  value: given.value,
  source,
  sequence: null,
  mark: null,
});
const append = (now: number, given: readonly Given[], source?: number) =>
  temporary.store.append({
    now,
    readings: given.map((each) => reading(each, source)),
    rejected: [],
    unclaimed: [],
  });

/** Accept a series one reading a commit, each a second after its own time, then evaluate. */
async function live(given: readonly Given[]): Promise<void> {
  for (const each of given) await append(each.at + 1_000, [each]);
  await evaluateAll(await evaluatorOf(temporary.store));
}
const series = (
  stream: Given["stream"],
  minutes: number,
  count: number,
  value: (i: number) => number,
  from = T0,
): Given[] =>
  Array.from({ length: count }, (_, i) => ({ stream, at: from + i * minutes * MINUTE, value: value(i) }));

describe("findings", () => {
  test("a temperature past its action limit for the on-delay is one finding of severity action, with an alarm", async () => {
    await live(series("temperature", 5, 24, (i) => (i < 4 ? 15 : i < 12 ? 18.5 : 15)));
    const findings = await temporary.store.readFindings({ limit: 10 });
    const band = findings.filter((finding) => finding.kind === "out of band");
    expect(band).toHaveLength(1);
    expect(band[0]).toMatchObject({
      rule: "high",
      severity: "action",
      began: T0 + 20 * MINUTE,
      // Three samples of five minutes: the smaller of them and a quarter of the hour to act.
      raised: T0 + 35 * MINUTE,
      ended: T0 + 60 * MINUTE,
    });
    expect(band[0]?.evidence).toMatchObject({ edge: 16, limit: 18, worst: 18.5 });
    const alarms = await temporary.store.readAlarms({ limit: 10 });
    const alarm = alarms.find((each) => each.kind === "out of band");
    expect(alarm).toMatchObject({ state: "RTN_UNACK", raised: T0 + 35 * MINUTE + 1_000 });
    const transitions = await temporary.store.readTransitions(alarm?.id ?? "");
    expect(transitions.map(({ from, to }) => `${from} ${to}`)).toEqual(["NORMAL UNACK", "UNACK RTN_UNACK"]);
  });

  test("an excursion shorter than the on-delay is no finding", async () => {
    await live(series("temperature", 5, 24, (i) => (i === 6 || i === 7 ? 16.1 : 15.9)));
    expect(await temporary.store.readFindings({ limit: 10 })).toEqual([]);
  });

  test("0.3 °C an hour over an hour is too fast before any band is left", async () => {
    await live(series("temperature", 5, 24, (i) => 14.5 + (i * 5 * 0.35) / 60));
    const [finding] = (await temporary.store.readFindings({ limit: 10 })).filter(
      (each) => each.kind === "too fast",
    );
    expect(finding).toMatchObject({ rule: "rising", severity: "action", ended: null });
    expect(finding?.evidence.rate).toBeCloseTo(0.35, 6);
    expect(
      (await temporary.store.readFindings({ limit: 10 })).some((each) => each.kind === "out of band"),
    ).toBe(false);
  });

  test("a tripped pump is a finding after ninety seconds, known by the flow readings that went on", async () => {
    await append(T0 + 1_000, [{ stream: "pump", at: T0, value: 0 }]);
    const trip = T0 + 7 * MINUTE;
    await append(trip + 500, [{ stream: "pump", at: trip, value: 3 }]);
    for (let i = 0; i < 5; i++)
      await append(trip + i * MINUTE + 1_000, [{ stream: "flow", at: trip + i * MINUTE, value: 60 }]);
    await evaluateAll(await evaluatorOf(temporary.store));
    const [finding] = await temporary.store.readFindings({ limit: 10 });
    expect(finding).toMatchObject({
      kind: "wrong state",
      rule: "tripped",
      severity: "action",
      began: trip,
      raised: trip + 90_000,
    });
    const [alarm] = await temporary.store.readAlarms({ active: true, limit: 10 });
    expect(alarm?.raised).toBe(trip + 2 * MINUTE + 1_000);
  });

  test("a critical stream that falls silent is a finding on the receiving clock, and over with its next reading", async () => {
    await append(T0 + 1_000, [{ stream: "temperature", at: T0, value: 15 }]);
    await append(T0 + 20 * MINUTE, [{ stream: "flow", at: T0 + 20 * MINUTE, value: 60 }]);
    const evaluator = await evaluatorOf(temporary.store);
    await evaluateAll(evaluator);
    const [open] = await temporary.store.readFindings({ open: true, limit: 10 });
    // Three intervals of five minutes after it was last heard, on the grid of ten seconds.
    expect(open).toMatchObject({
      kind: "silent",
      severity: "action",
      began: T0,
      raised: T0 + 15 * MINUTE + 10_000,
    });
    await append(T0 + 30 * MINUTE, [{ stream: "temperature", at: T0 + 30 * MINUTE, value: 15 }]);
    await evaluateAll(evaluator);
    const silent = (await temporary.store.readFindings({ limit: 10 })).find(
      (each) => each.stream === site.streams.temperature.id,
    );
    expect(silent?.ended).toBe(T0 + 30 * MINUTE);
  });

  test("accepting that has just started is no silence of the probes", async () => {
    await append(T0 + 1_000, [{ stream: "temperature", at: T0, value: 15 }]);
    await temporary.store.note("up", null, T0 + 10 * HOUR);
    await append(T0 + 10 * HOUR + 30_000, [{ stream: "flow", at: T0 + 10 * HOUR + 29_000, value: 60 }]);
    await evaluateAll(await evaluatorOf(temporary.store));
    expect(await temporary.store.readFindings({ limit: 10 })).toEqual([]);
    await append(T0 + 10 * HOUR + 40 * MINUTE, [
      { stream: "flow", at: T0 + 10 * HOUR + 39 * MINUTE, value: 60 },
    ]);
    await evaluateAll(await evaluatorOf(temporary.store));
    const found = (await temporary.store.readFindings({ limit: 10 })).filter(
      (each) => each.stream === site.streams.temperature.id,
    );
    // Three intervals of five minutes after the start, on the grid of ten seconds.
    expect(found).toMatchObject([
      { kind: "silent", began: T0, raised: T0 + 10 * HOUR + 15 * MINUTE, evidence: { lastAt: T0 } },
    ]);
  });

  test("a record at a slower pace than the live stream has no gaps for that: half-hourly values leave their band too", async () => {
    const recorded = series("temperature", 30, 12, (i) => (i < 4 ? 15 : 18.5));
    await append(T0 + 40 * 24 * HOUR, recorded, site.history);
    await evaluateAll(await evaluatorOf(temporary.store));
    const [finding] = (await temporary.store.readFindings({ limit: 10 })).filter(
      (each) => each.kind === "out of band",
    );
    expect(finding).toMatchObject({ began: T0 + 2 * HOUR, raised: T0 + 2.5 * HOUR, severity: "action" });
  });

  test("what a recorded file tells is found late: findings yes, alarms no", async () => {
    const recorded = series("temperature", 5, 24, (i) => (i < 4 ? 15 : 18.5));
    await append(T0 + 40 * 24 * HOUR, recorded, site.history);
    await evaluateAll(await evaluatorOf(temporary.store));
    const [finding] = (await temporary.store.readFindings({ limit: 10 })).filter(
      (each) => each.kind === "out of band",
    );
    expect(finding).toMatchObject({ severity: "action", late: true });
    expect(await temporary.store.readAlarms({ limit: 10 })).toEqual([]);
  });
});

describe("derived values", () => {
  test("salinity, oxygen percent and un-ionised ammonia appear at their inputs' own times, with formula and interval", async () => {
    const given = [
      { stream: "temperature", at: T0, value: 15 },
      { stream: "conductivity", at: T0, value: 42.914 },
      { stream: "oxygen", at: T0, value: 8 },
    ] as const;
    await append(T0 + 1_000, given);
    await temporary.store.recordBench(
      {
        id: "t1",
        clientId: "c1",
        system: "bay-id",
        point: "display-id",
        sampledAt: T0 + MINUTE,
        enteredAt: T0 + 2 * MINUTE,
        analyst: "test",
        note: null,
        results: [
          {
            id: "r1",
            stream: site.streams.tan.id,
            quantity: "total_ammonia",
            typed: "0.30",
            qualifier: "=",
            unitTyped: "mg{N}/L",
            value: 0.3,
            method: null,
            replicate: 1,
            supersedes: null,
            reason: null,
            answer: null,
            asked: null,
          },
        ],
      },
      T0 + 2 * MINUTE,
    );
    await append(T0 + 5 * MINUTE, [{ stream: "ph", at: T0 + 5 * MINUTE, value: 8.1 }]);
    await evaluateAll(await evaluatorOf(temporary.store));
    const { streams } = await temporary.store.readSetUp();
    const derived = async (quantity: string) => {
      const stream = streams.find((each) => each.quantity === quantity && each.origin === "derived");
      return stream ? temporary.store.readDerived(stream.id, 0, Number.MAX_SAFE_INTEGER, 10) : [];
    };
    // 42.914 mS/cm at 15 degC (IPTS-68) is S 35 by definition of PSS-78 (UNESCO 44); 15 degC ITS-90 is 0.0036 higher on that scale.
    expect((await derived("salinity"))[0]?.value).toBeCloseTo(35, 2);
    expect((await derived("oxygen_saturation"))[0]).toMatchObject({ at: T0 });
    const [ammonia] = await derived("unionised_ammonia");
    expect(ammonia?.at).toBe(T0 + 5 * MINUTE);
    expect(ammonia?.formula).toContain("Clegg");
    expect(ammonia?.low).toBeLessThan(ammonia?.value ?? 0);
    expect(ammonia?.high).toBeGreaterThan(ammonia?.value ?? 0);
  });

  test("a total ammonia below the kit's limit gives an upper bound that proves the band or proves nothing", async () => {
    await append(T0 + 1_000, [
      { stream: "temperature", at: T0, value: 15 },
      { stream: "conductivity", at: T0, value: 42.9 },
    ]);
    await temporary.store.recordBench(
      {
        id: "t2",
        clientId: "c2",
        system: "bay-id",
        point: "display-id",
        sampledAt: T0 + MINUTE,
        enteredAt: T0 + MINUTE,
        analyst: "test",
        note: null,
        results: [
          {
            id: "r2",
            stream: site.streams.tan.id,
            quantity: "total_ammonia",
            typed: "0.05",
            qualifier: "<",
            unitTyped: "mg{N}/L",
            value: 0.05,
            method: null,
            replicate: 1,
            supersedes: null,
            reason: null,
            answer: null,
            asked: null,
          },
        ],
      },
      T0 + 2 * MINUTE,
    );
    await append(T0 + 5 * MINUTE, [{ stream: "ph", at: T0 + 5 * MINUTE, value: 8.0 }]);
    await evaluateAll(await evaluatorOf(temporary.store));
    const current = await temporary.store.readCurrent();
    const { streams } = await temporary.store.readSetUp();
    const stream = streams.find((each) => each.quantity === "unionised_ammonia");
    const row = current.find((each) => each.stream === stream?.id);
    expect(row).toMatchObject({ low: 0, deviation: 0 });
  });
});

/** Total ammonia of the display at T0 and each hour after, held against a target up to 0.1 and an action limit of 0.3 mg/L. */
async function testAmmonia(
  typed: readonly (readonly [value: string, qualifier: "=" | "<", answer?: Answer])[],
): Promise<void> {
  await temporary.store.writeSetUp(
    {
      bands: [
        {
          id: "band-tan",
          system: "bay-id",
          quantity: "total_ammonia",
          point: null,
          months: [edges({ high: 0.1, actionHigh: 0.3 })],
          validFrom: 0,
          validTo: null,
          recordedAt: 0,
          setBy: "test",
          reason: "test",
          source: "invented for the test",
        },
      ],
    },
    [{ system: "bay-id", from: T0 }],
    T0,
  );
  for (const [i, [value, qualifier, answer = null]] of typed.entries())
    await temporary.store.recordBench(
      {
        id: `t-${i}`,
        clientId: `c-${i}`,
        system: "bay-id",
        point: "display-id",
        sampledAt: T0 + i * HOUR,
        enteredAt: T0 + i * HOUR + MINUTE,
        analyst: "test",
        note: null,
        results: [
          {
            id: `r-${i}`,
            stream: site.streams.tan.id,
            quantity: "total_ammonia",
            typed: value,
            qualifier,
            unitTyped: "mg{N}/L",
            value: Number(value),
            method: null,
            replicate: 1,
            supersedes: null,
            reason: null,
            answer,
            asked: answer === null ? null : "That is past the action limit. Is it right?",
          },
        ],
      },
      T0 + i * HOUR + MINUTE,
    );
}

test("a bench result that is out of band is a finding at once, and over with the first result back in, a '<' included", async () => {
  await testAmmonia([
    ["0.35", "="],
    ["0.2", "="],
    ["0.10", "<"],
  ]);
  await evaluateAll(await evaluatorOf(temporary.store));
  const findings = await temporary.store.readFindings({ limit: 10 });
  expect(findings).toHaveLength(1);
  expect(findings[0]).toMatchObject({ severity: "action", began: T0, raised: T0, ended: T0 + 2 * HOUR });
});

test("a bench result whose tester is not sure is doubted and calls nobody; the test made again does", async () => {
  await testAmmonia([
    ["0.35", "=", "again"],
    ["0.36", "="],
  ]);
  await evaluateAll(await evaluatorOf(temporary.store));
  const flags = await temporary.store.readFlags(site.streams.tan.id, T0, T0 + 2 * HOUR, 10);
  expect(flags).toMatchObject([{ at: T0, flag: 3, reasons: ["not_sure"] }]);
  expect(await temporary.store.readFindings({ limit: 10 })).toMatchObject([
    { severity: "action", began: T0 + HOUR, raised: T0 + HOUR },
  ]);
});

/** Three hours of a bay with a heater fault, in time order. */
function eventful(): Given[] {
  const all = [
    ...series("temperature", 5, 60, (i) => 15 + (i > 12 ? (i - 12) * 0.09 : 0)),
    ...series("conductivity", 5, 60, (i) => 41 + Math.sin(i) * 0.2 + (i > 40 ? -3 : 0)),
    ...series("oxygen", 5, 60, (i) => 8 - (i > 20 ? (i - 20) * 0.06 : 0)),
    ...series("ph", 5, 60, (i) => 8.05 - i * 0.004),
    ...series("pump", 5, 60, (i) => (i > 30 && i < 36 ? 3 : 0)),
  ];
  return all.sort((a, b) => a.at - b.at);
}

test("claims do not depend on batches, on the order of arrival, nor on restarts of the evaluator", async () => {
  const given = eventful();
  await live(given);
  const expected = await claimsOf(temporary.store);
  expect(JSON.stringify(expected)).toContain("too-fast");
  const arrival = fc.record({
    sizes: fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 5, maxLength: 40 }),
    delays: fc.array(fc.integer({ min: 0, max: 4 * 60 }), {
      minLength: given.length,
      maxLength: given.length,
    }),
    jitter: fc.constantFrom(0, 1, 20, 240),
    restartEvery: fc.integer({ min: 1, max: 9 }),
  });
  await fc.assert(
    fc.asyncProperty(arrival, async ({ sizes, delays, jitter, restartEvery }) => {
      const other = await temporaryStore();
      try {
        const { streams, gateway } = await setUpSmallSite(other.store, T0 - HOUR);
        const arriving = given
          .map((each, i) => ({ ...each, arrives: each.at + Math.min(delays[i] ?? 0, jitter) * MINUTE }))
          .sort((a, b) => a.arrives - b.arrives);
        let evaluator = await evaluatorOf(other.store);
        for (let start = 0, n = 0; start < arriving.length; n++) {
          const size = sizes[n % sizes.length] as number;
          const batch = arriving.slice(start, start + size);
          start += size;
          const now = Math.max(...batch.map((each) => each.arrives)) + 1;
          await other.store.append({
            now,
            readings: batch.map((each) => ({
              stream: streams[each.stream].id,
              at: each.at,
              value: each.value,
              source: gateway,
              sequence: null,
              mark: null,
            })),
            rejected: [],
            unclaimed: [],
          });
          if (n % 2 === 0) await evaluator.pass({ hurry: n % 3 === 0 });
          if (n % restartEvery === 0) {
            // As after a kill: what the old one held in memory is gone; the same holder may take its lease back at once.
            evaluator = await evaluatorOf(other.store);
          }
        }
        await evaluateAll(evaluator);
        expect(await claimsOf(other.store)).toEqual(expected);
      } finally {
        await other.dispose();
      }
    }),
    {
      numRuns: Number(process.env.HOMEWATER_TEST_RUNS ?? 12),
      endOnFailure: true,
      interruptAfterTimeLimit: 60_000,
    },
  );
}, 120_000);

test("a second value for the same moment makes that reading suspect and judges again from it", async () => {
  await live(series("temperature", 5, 12, () => 15));
  const outcome = await append(T0 + HOUR, [{ stream: "temperature", at: T0 + 10 * MINUTE, value: 25 }]);
  expect(outcome.fates).toEqual(["conflict"]);
  await evaluateAll(await evaluatorOf(temporary.store));
  const flags = await temporary.store.readFlags(site.streams.temperature.id, 0, Number.MAX_SAFE_INTEGER, 10);
  expect(flags).toEqual([
    { stream: site.streams.temperature.id, at: T0 + 10 * MINUTE, flag: 3, reasons: ["conflict"] },
  ]);
});

test("a time next year is kept and flagged, and what comes after it is judged as ever", async () => {
  await append(T0 + 1_000, [{ stream: "temperature", at: T0 + 365 * 24 * HOUR, value: 15 }]);
  await live(series("temperature", 5, 4, () => 15));
  const [current] = await temporary.store.readCurrent([site.streams.temperature.id]);
  expect(current?.at).toBe(T0 + 15 * MINUTE);
  const flags = await temporary.store.readFlags(site.streams.temperature.id, 0, Number.MAX_SAFE_INTEGER, 10);
  expect(flags.map((row) => row.reasons)).toEqual([["time_suspect"]]);
});

test("two evaluators cannot both write: the one whose lease was taken over is superseded and writes nothing", async () => {
  let now = T0;
  const first = await evaluatorOf(temporary.store, () => now, "first");
  await append(T0 + 1_000, [{ stream: "temperature", at: T0, value: 15 }]);
  now += 60_000;
  const second = await evaluatorOf(temporary.store, () => now, "second");
  await expect(first.pass()).rejects.toThrow(StoreError);
  await evaluateAll(second);
  expect(await temporary.store.readCurrent()).toHaveLength(1);
});
