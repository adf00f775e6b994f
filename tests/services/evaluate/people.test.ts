/** What people do while the evaluator runs: acknowledge, and log what explains the water. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { type TemporaryStore, temporaryStore } from "#tests/helpers/open-store.ts";
import { type SmallSite, setUpSmallSite } from "#tests/helpers/small-site.ts";
import { logVersion } from "#tests/store/contract/samples.ts";

const MINUTE = 60_000;
const T0 = Date.UTC(2026, 8, 1, 8);
const audit = (verb: string) => ({
  at: T0,
  actor: "test",
  actorId: "test",
  verb,
  subject: "test",
  record: { verb },
});

let temporary: TemporaryStore;
let site: SmallSite;
beforeEach(async () => {
  temporary = await temporaryStore();
  site = await setUpSmallSite(temporary.store, T0 - 60 * MINUTE);
});
afterEach(() => temporary.dispose());

/** Flow, one reading a minute, each a second after its own time. */
async function flow(fromMinute: number, values: readonly number[]): Promise<void> {
  for (const [i, value] of values.entries()) {
    const at = T0 + (fromMinute + i) * MINUTE;
    await temporary.store.append({
      now: at + 1_000,
      readings: [
        { stream: site.streams.flow.id, at, value, source: site.gateway, sequence: null, mark: null },
      ],
      rejected: [],
      unclaimed: [],
    });
  }
}
const LOGGED = logVersion({
  systems: ["bay-id"],
  at: T0 + 5 * MINUTE,
  amount: null,
  unit: null,
  animals: [],
  entered: T0 + 5 * MINUTE,
});

test("an acknowledged alarm says who and when, and is normal once its condition is over", async () => {
  await flow(0, [60, 60, 20, 20, 20, 20]);
  const evaluator = await evaluatorOf(temporary.store);
  await evaluateAll(evaluator);
  const [alarm] = await temporary.store.readAlarms({ active: true, limit: 5 });
  expect(alarm?.state).toBe("UNACK");
  const at = T0 + 6 * MINUTE;
  const given = {
    id: "ack-1",
    clientId: "c-1",
    alarm: alarm?.id ?? "",
    by: "night technician",
    byId: "p-1",
    note: null,
    at,
  };
  await temporary.store.acknowledge(given, at, audit("acknowledge"));
  await evaluateAll(evaluator);
  expect((await temporary.store.readAlarms({ active: true, limit: 5 }))[0]).toMatchObject({
    state: "ACK",
    acknowledgedBy: "night technician",
  });
  await flow(7, [60, 60, 60, 60, 60]);
  await evaluateAll(evaluator);
  expect(await temporary.store.readAlarms({ active: true, limit: 5 })).toEqual([]);
  const steps = await temporary.store.readTransitions(alarm?.id ?? "");
  expect(steps.map(({ from, to, cause }) => `${from} ${to} ${cause}`)).toEqual([
    "NORMAL UNACK condition active",
    "UNACK ACK acknowledged by night technician",
    "ACK NORMAL condition cleared",
  ]);
});

test("a logged backwash keeps flow from ringing, for its half hour and no longer; the finding is kept all the same", async () => {
  await flow(0, [60, 60, 60, 60, 60]);
  await temporary.store.writeLog(LOGGED, T0 + 5 * MINUTE, audit("log"));
  await flow(6, Array(25).fill(20));
  const evaluator = await evaluatorOf(temporary.store);
  await evaluateAll(evaluator);
  expect((await temporary.store.readFindings({ limit: 5 }))[0]).toMatchObject({
    kind: "out of band",
    severity: "action",
  });
  expect(await temporary.store.readAlarms({ limit: 5 })).toEqual([]);
  await flow(31, Array(8).fill(20));
  await evaluateAll(evaluator);
  const [alarm] = await temporary.store.readAlarms({ limit: 5 });
  // Five past eight and the thirty minutes a backwash may take (common practice, no source).
  expect(alarm?.raised).toBe(T0 + 35 * MINUTE + 1_000);
});

test("a window that was logged survives a restart of the evaluator", async () => {
  await temporary.store.writeLog(LOGGED, T0 + 5 * MINUTE, audit("log"));
  await evaluateAll(await evaluatorOf(temporary.store));
  await flow(6, Array(10).fill(20));
  await evaluateAll(await evaluatorOf(temporary.store));
  expect(await temporary.store.readAlarms({ limit: 5 })).toEqual([]);
});

test("a backwash that runs past its half hour with flow still low is said so, through a restart and late data, until flow is back", async () => {
  const overruns = async () =>
    (await temporary.store.readFindings({ limit: 20 })).filter((finding) => finding.kind === "overrun");
  await flow(0, [60, 60, 60, 60, 60]);
  await temporary.store.writeLog(LOGGED, T0 + 5 * MINUTE, audit("log"));
  await flow(6, Array(25).fill(20));
  const evaluator = await evaluatorOf(temporary.store);
  await evaluateAll(evaluator);
  expect(await overruns()).toEqual([]);
  await flow(31, Array(8).fill(20));
  await evaluateAll(evaluator);
  const open = { rule: "low", severity: "look", began: T0 + 35 * MINUTE, ended: null };
  expect(await overruns()).toMatchObject([open]);
  await temporary.store.append({
    now: T0 + 39 * MINUTE,
    readings: [
      {
        stream: site.streams.flow.id,
        at: T0 + 5 * MINUTE + 30_000,
        value: 60,
        source: site.gateway,
        sequence: null,
        mark: null,
      },
    ],
    rejected: [],
    unclaimed: [],
  });
  const another = await evaluatorOf(temporary.store);
  await evaluateAll(another);
  expect(await overruns()).toMatchObject([open]);
  await flow(40, Array(8).fill(60));
  await evaluateAll(another);
  const [over] = await overruns();
  expect(over?.ended).toBeGreaterThanOrEqual(T0 + 40 * MINUTE);
});
