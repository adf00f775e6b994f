/** An adult and eggs of different species share a system in November; every number is invented. */
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { bandFor } from "#core/habitat/index.ts";
import { confirmBand, signCompromise } from "#services/habitat/compromises.ts";
import { readResidents } from "#services/habitat/read-residents.ts";
import { moveAnimal, moveIn } from "#services/habitat/residents.ts";
import { withdrawCompromise } from "#services/habitat/withdraw-compromise.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { readOvernight } from "#services/overnight/read-overnight.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import { evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { ADA, type Aquarium, knowSpecies, openAquarium } from "./aquarium.ts";

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
// A margin of 2 Cel beyond the edge for action limits: common practice, no source.
const START = Date.UTC(2026, 10, 10);

let aquarium: Aquarium;
beforeEach(async () => {
  aquarium = await openAquarium(START);
  await knowSpecies(aquarium, "reef-runner", [{ stage: "adult", low: 12, high: 20 }]);
  await knowSpecies(aquarium, "cold-skate", [{ stage: "egg or larva", low: 8, high: 11 }]);
});
afterEach(() => aquarium.dispose());

const view = () => readResidents(read(), "kelp");
const inForce = async (at: number) => {
  const { bands } = await aquarium.store.readSetUp();
  return bandFor(bands, "s-kelp", "temperature", "display", at)?.months[0];
};
const inForceIn = async (month: number, at: number) => {
  const { bands } = await aquarium.store.readSetUp();
  const band = bandFor(bands, "s-kelp", "temperature", "display", at);
  return band?.months.length === 12 ? band.months[month - 1] : band?.months[0];
};
const findings = async () =>
  (await aquarium.store.readFindings({ limit: 100 })).filter((finding) => finding.kind === "out of band");

async function shared(): Promise<{ adult: string; eggs: string }> {
  const adult = await moveIn(aquarium.write, ADA, "kelp", {
    species: "reef-runner",
    stage: "adult",
    count: 1,
    name: "Pip",
    confirm: true,
  });
  aquarium.now = START + DAY;
  const eggs = await moveIn(aquarium.write, ADA, "kelp", {
    species: "cold-skate",
    stage: "egg or larva",
    count: 4,
  });
  return { adult: adult.id, eggs: eggs.id };
}

test("no common range: who sets each edge, the gap in degrees, and no old band goes on that harms the eggs", async () => {
  await shared();
  const { bands } = await view();
  const november = bands[0]?.months[10];
  expect(november?.gap).toBe(12 - 11);
  expect(november?.low).toMatchObject({
    value: 12,
    speciesName: "reef runner",
    who: "Pip",
    source: "invented husbandry note on reef-runner",
  });
  expect(november?.high).toMatchObject({
    value: 11,
    speciesName: "cold skate",
    stage: "egg or larva",
    who: "4",
  });
  expect(november?.asked).toBeNull();
  // The adult's limit below and the eggs' above, each 2 beyond what it asks for; the edges lie just inside and are no target.
  expect(november?.kept).toMatchObject({ low: 10.05, high: 12.95, actionLow: 10, actionHigh: 13 });
  expect(bands[0]?.conflicts).toHaveLength(12);
});

const read = () => ({
  store: aquarium.store,
  clock: () => aquarium.now,
  setUp: aquarium.write.setUp,
  sweep: createSweepReader(aquarium.store),
  ahead: createAheadReader(aquarium.store),
  seesAll: true,
});

test("Systems and Overnight say that there is no target and why, and 10.6 is never below a band that the eggs need left", async () => {
  await shared();
  await aquarium.read("kelp", START + DAY, START + DAY + 4 * HOUR, 10.6);
  aquarium.now = START + DAY + 4 * HOUR;
  const evaluator = await evaluatorOf(aquarium.store, () => aquarium.now);
  await evaluateAll(evaluator);
  expect(await findings()).toEqual([]);
  const says =
    "No common temperature range, so no target: reef runner 12.0 to 20.0 °C, cold skate (egg or larva) 8.0 to 11.0 °C; reef runner and cold skate (egg or larva) are 1.0 °C apart. A compromise has to be signed.";
  const kelp = (await readSystems(read())).systems.find(({ system }) => system === "kelp");
  expect(kelp).toMatchObject({ standing: "look", notes: [{ kind: "no common range", says }] });
  expect(kelp?.streams[0]).toMatchObject({
    standing: "look",
    band: { low: null, high: null, actionLow: 10, actionHigh: 13 },
  });
  const night = await readOvernight(read(), {});
  expect(night.notes).toEqual([{ system: "kelp", kind: "no common range", says }]);
  expect(night.calm).not.toContain("kelp");
  await evaluator.release();
});

test("the harm of either side rings meanwhile: 13.5 is past what the eggs bear though the adult asks for 12 to 20", async () => {
  await shared();
  await aquarium.read("kelp", START + DAY, START + DAY + 4 * HOUR, 13.5);
  aquarium.now = START + DAY + 4 * HOUR;
  const evaluator = await evaluatorOf(aquarium.store, () => aquarium.now);
  await evaluateAll(evaluator);
  expect(await findings()).toMatchObject([{ rule: "high", severity: "action", ended: null }]);
  await evaluator.release();
});

test("when the eggs have left, what stood before the conflict stands again without anybody's confirmation", async () => {
  const { eggs } = await shared();
  aquarium.now = START + 2 * DAY;
  await moveAnimal(aquarium.write, ADA, eggs, { to: null, how: "left" });
  expect(await inForce(aquarium.now)).toEqual({
    low: 12,
    high: 20,
    actionLow: 10,
    actionHigh: 22,
    urgentLow: null,
    urgentHigh: null,
  });
});

test("a compromise with reason and date sets target and limits from its day, and the conflict goes on showing", async () => {
  await shared();
  await signCompromise(aquarium.write, ADA, "kelp", {
    quantity: "temperature",
    months: [11, 12],
    low: 11,
    high: 12.5,
    reason: "until the eggs hatch",
  });
  const { bands, compromises } = await view();
  expect(bands[0]?.months[10]).toMatchObject({
    gap: 1,
    kept: { low: 11, high: 12.5, actionLow: 9, actionHigh: 14.5 },
  });
  expect(bands[0]?.months[0]).toMatchObject({
    gap: 1,
    compromise: null,
    kept: { actionLow: 10, actionHigh: 13 },
  });
  expect(compromises[0]).toMatchObject({
    reason: "until the eggs hatch",
    signedBy: "Ada",
    signed: START + DAY,
    months: [11, 12],
  });
  const log = await aquarium.store.readLog({ limit: 10 });
  expect(log.map((each) => each.versions[0]?.text)).toContain(
    "Compromise signed for temperature, 11.0 to 12.5 °C: until the eggs hatch",
  );
});

test("a withdrawn compromise ends on its day and stays in history; its months are a conflict again, and nothing loosens", async () => {
  await shared();
  const sign = {
    quantity: "temperature",
    months: [11, 12],
    low: 11,
    high: 12.5,
    reason: "until the eggs hatch",
  };
  const { id } = await signCompromise(aquarium.write, ADA, "kelp", sign);
  const signedAt = aquarium.now;
  aquarium.now += 3 * DAY;
  const early = { reason: "too early", from: new Date(signedAt - HOUR).toISOString() };
  await expect(withdrawCompromise(aquarium.write, ADA, id, early)).rejects.toMatchObject({
    code: "invalid",
    issues: [{ field: "from" }],
  });
  await expect(withdrawCompromise(aquarium.write, ADA, "none", { reason: "why not" })).rejects.toMatchObject({
    code: "not_found",
  });
  const from = aquarium.now - DAY;
  await withdrawCompromise(aquarium.write, ADA, id, {
    reason: "the eggs suffer",
    from: new Date(from).toISOString(),
  });
  const { bands, compromises } = await view();
  expect(compromises).toMatchObject([{ id, from: signedAt, to: from, reason: "until the eggs hatch" }]);
  const asked = bands[0];
  expect(asked?.months[10]).toMatchObject({ gap: 1, compromise: null, asked: null });
  expect(asked).toMatchObject({ confirmedBy: null });
  expect(asked?.conflicts).toContain(11);
  expect(asked?.awaits).toContain(11);
  // The day before it still was what was signed; after it each side rings where its animals come to harm, and neither later than signed.
  expect(await inForceIn(11, from - 1)).toMatchObject({
    low: 11,
    high: 12.5,
    actionLow: 9,
    actionHigh: 14.5,
  });
  expect(await inForceIn(11, from)).toMatchObject({ actionLow: 10, actionHigh: 13 });
  const log = await aquarium.store.readLog({ limit: 10 });
  expect(log.map((each) => each.versions[0]?.text)).toContain(
    "Compromise for temperature, 11.0 to 12.5 °C, withdrawn: the eggs suffer",
  );
  const again = withdrawCompromise(aquarium.write, ADA, id, { reason: "once more" });
  await expect(again).rejects.toMatchObject({ code: "conflict" });
  // Another one may be signed for the same months.
  await signCompromise(aquarium.write, ADA, "kelp", { ...sign, low: 10.5, high: 12 });
  expect((await view()).bands[0]?.months[10]).toMatchObject({ kept: { low: 10.5, high: 12 } });
});

test("a month with a common range needs none, and limits lie beyond edges", async () => {
  await moveIn(aquarium.write, ADA, "kelp", { species: "reef-runner", stage: "adult", count: 1 });
  const sent = { quantity: "temperature", months: [11], low: 11, high: 12, reason: "no need" };
  await expect(signCompromise(aquarium.write, ADA, "kelp", sent)).rejects.toMatchObject({ code: "invalid" });
  await expect(signCompromise(aquarium.write, ADA, "kelp", { ...sent, low: 13 })).rejects.toMatchObject({
    code: "invalid",
  });
});

describe("removing one resident", () => {
  const all = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
  const signed = {
    quantity: "temperature",
    months: all,
    low: 11,
    high: 12.5,
    reason: "until the eggs hatch",
  };

  test("widens the band from that day on and judges the findings anew from there", async () => {
    const { eggs } = await shared();
    await signCompromise(aquarium.write, ADA, "kelp", signed);
    await aquarium.read("kelp", START + DAY, START + 4 * DAY, 14);
    const evaluator = await evaluatorOf(aquarium.store, () => aquarium.now);
    await evaluateAll(evaluator);
    expect(await findings()).toMatchObject([{ severity: "look", ended: null }]);

    // Written down on the fifth day: the eggs left on the third.
    aquarium.now = START + 4 * DAY;
    const left = START + 2 * DAY;
    await moveAnimal(aquarium.write, ADA, eggs, { to: null, how: "left", at: left, confirm: true });
    expect(await inForce(left - 1)).toMatchObject({ low: 11, high: 12.5, actionHigh: 14.5 });
    expect(await inForce(left)).toMatchObject({ low: 12, high: 20, actionLow: 10, actionHigh: 22 });
    await evaluateAll(evaluator);
    const [finding] = await findings();
    expect(finding?.ended).toBe(left);
    expect(await findings()).toHaveLength(1);
    await evaluator.release();
  });

  test("never loosens an action limit without a curator's word", async () => {
    const { eggs } = await shared();
    await signCompromise(aquarium.write, ADA, "kelp", signed);
    const left = START + 2 * DAY;
    aquarium.now = left;
    await moveAnimal(aquarium.write, ADA, eggs, { to: null, how: "left" });
    // 20 lies past the limit of 14.5 that stands: that side stays; the low edge, tighter, has come in.
    expect(await inForce(left)).toMatchObject({ low: 12, high: 12.5, actionLow: 9, actionHigh: 14.5 });
    expect((await view()).bands[0]?.awaits).toEqual(all);
    aquarium.now = left + HOUR;
    await confirmBand(aquarium.write, ADA, "kelp", {
      quantity: "temperature",
      from: left,
      reason: "looked at the animals",
    });
    expect(await inForce(left)).toMatchObject({ low: 12, high: 20, actionLow: 10, actionHigh: 22 });
    expect((await view()).bands[0]).toMatchObject({ awaits: [], confirmedBy: "Ada" });
    const again = confirmBand(aquarium.write, ADA, "kelp", {
      quantity: "temperature",
      from: left,
      reason: "once more",
    });
    await expect(again).rejects.toMatchObject({ code: "conflict" });
  });
});

test("a changed band judges the value that is current at once, without another reading", async () => {
  await moveIn(aquarium.write, ADA, "kelp", {
    species: "reef-runner",
    stage: "adult",
    count: 1,
    confirm: true,
  });
  await aquarium.read("kelp", START, START + 2 * HOUR, 14);
  const evaluator = await evaluatorOf(aquarium.store, () => aquarium.now);
  await evaluateAll(evaluator);
  const { id } = aquarium.thermometer.kelp;
  expect((await aquarium.store.readCurrent([id]))[0]).toMatchObject({ deviation: 0, band: { low: 12 } });
  aquarium.now = START + 2 * HOUR + 60_000;
  const { bands } = await aquarium.store.readSetUp();
  const eggs = await moveIn(aquarium.write, ADA, "kelp", {
    species: "cold-skate",
    stage: "egg or larva",
    count: 4,
  });
  const runners = (await aquarium.store.readSetUp()).residents.find((row) => row.species === "reef-runner");
  await moveAnimal(aquarium.write, ADA, runners?.id ?? "", { to: "nursery", how: "moved", confirm: true });
  expect(bands).toHaveLength(1);
  expect(eggs.received).toBeGreaterThanOrEqual(aquarium.now);
  await evaluateAll(evaluator);
  // 14 lies at 1.5 times the way from 11 to the action limit of 13.
  expect((await aquarium.store.readCurrent([id]))[0]).toMatchObject({
    at: START + 2 * HOUR - 300_000,
    deviation: 1.5,
    band: { low: 8, high: 11 },
  });
  await evaluator.release();
});
