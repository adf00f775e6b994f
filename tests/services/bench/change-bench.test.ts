import { afterEach, beforeEach, expect, test } from "vitest";
import { benchAnswer } from "#contract/answers.ts";
import { lastBenchView } from "#contract/bench-forms.ts";
import { MINUTE } from "#core/time/instant.ts";
import { correctBench, voidBench } from "#services/bench/change-bench.ts";
import { readLastBench } from "#services/bench/read-last-bench.ts";
import { recordBench } from "#services/bench/record-bench.ts";
import { band, KEEPER, NOW, openWorld, system, type World } from "../world.ts";

let world: World;
let id: string;
const sent = {
  clientId: "phone-1",
  system: "reef",
  point: "display",
  sampledAt: new Date(NOW - 5 * MINUTE).toISOString(),
  results: [{ quantity: "ph", value: "8.10", unit: "[pH]", method: "meter" }],
};
beforeEach(async () => {
  world = await openWorld([system("reef")], [band("reef")]);
  id = (await recordBench(world.write, KEEPER, sent)).results[0]?.id ?? "";
});
afterEach(() => world.dispose());

const last = async () =>
  (await readLastBench(world.read, "reef")).quantities.find((row) => row.quantity === "ph")?.last ?? [];

test("a client id sent again is told what is stored, whatever else it says now", async () => {
  const again = await recordBench(world.write, KEEPER, {
    ...sent,
    results: [{ quantity: "ph", value: "7", unit: "[pH]" }],
  });
  expect(again).toMatchObject({
    repeated: true,
    results: [{ id, typed: "8.10", value: 8.1, method: "meter" }],
  });
  expect(benchAnswer.parse(again)).toEqual(again);
});

test("a correction stands for the result at its moment and place, keeps its method, and once per client id", async () => {
  const fix = { clientId: "fix-1", value: "8.02", unit: "[pH]", reason: "misread" };
  const answer = await correctBench(world.write, KEEPER, id, fix);
  expect(answer).toMatchObject({
    sampledAt: NOW - 5 * MINUTE,
    point: "display",
    results: [{ typed: "8.02", supersedes: id, reason: "misread", method: "meter" }],
  });
  expect((await last()).map((row) => row.typed)).toEqual(["8.02"]);
  expect(await correctBench(world.write, KEEPER, id, fix)).toEqual({ ...answer, repeated: true });
  await expect(correctBench(world.write, KEEPER, id, { ...fix, clientId: "fix-2" })).rejects.toMatchObject({
    code: "conflict",
    message: expect.stringContaining(answer.results[0]?.id ?? "?"),
  });
});

test("a void takes a result out of force for good; the row stays", async () => {
  const mistake = { clientId: "void-1", reason: "wrong tank" };
  const answer = await voidBench(world.write, KEEPER, id, mistake);
  expect(answer).toMatchObject({ result: id, by: "keeper", repeated: false });
  expect(await last()).toEqual([]);
  expect(await voidBench(world.write, KEEPER, id, mistake)).toEqual({ ...answer, repeated: true });
  await expect(voidBench(world.write, KEEPER, id, { ...mistake, clientId: "void-2" })).rejects.toMatchObject({
    code: "conflict",
  });
  await expect(
    correctBench(world.write, KEEPER, id, { clientId: "fix", value: "8", unit: "[pH]", reason: "misread" }),
  ).rejects.toMatchObject({ code: "conflict" });
  expect((await world.store.readBenchTest({ result: id }))?.results).toMatchObject([
    { id, voided: answer.id },
  ]);
});

test("a reason is demanded and a result that is not there is named", async () => {
  await expect(voidBench(world.write, KEEPER, id, { clientId: "v" })).rejects.toMatchObject({
    issues: [{ field: "reason" }],
  });
  await expect(
    voidBench(world.write, KEEPER, "none", { clientId: "v", reason: "wrong" }),
  ).rejects.toMatchObject({ code: "not_found" });
});

test("the form is told the last three, the band in force, the units that may be typed", async () => {
  for (const [n, value] of ["8.1", "8.2", "8.3", "8.4"].entries())
    await recordBench(world.write, KEEPER, {
      ...sent,
      clientId: `more-${n}`,
      sampledAt: new Date(NOW - (4 - n) * MINUTE).toISOString(),
      results: [{ quantity: "ph", value, unit: "[pH]" }],
    });
  const view = await readLastBench(world.read, "reef");
  expect(lastBenchView.parse(view)).toEqual(view);
  expect((await last()).map((row) => row.typed)).toEqual(["8.4", "8.3", "8.2"]);
  const temperature = view.quantities.find((row) => row.quantity === "temperature");
  expect(temperature).toMatchObject({ point: "display", band: { low: 24, high: 27 }, last: [], probe: null });
  expect(temperature?.units).toContain("[degF]");
});
