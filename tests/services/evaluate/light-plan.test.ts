/** A light schedule is settings of the evaluator: set back in time, what was measured since is held against it; ended, it claims nothing more. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { setLightPlan } from "#services/home-water/light-plans.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { type TemporaryStore, temporaryStore } from "#tests/helpers/open-store.ts";
import { setUpSmallSite } from "#tests/helpers/small-site.ts";
import { actorWith } from "../world.ts";

const [MINUTE, HOUR, DAY] = [60_000, 3_600_000, 86_400_000];
/** Midnight in London, in winter. */
const T0 = Date.UTC(2026, 1, 2);
const CURATOR = actorWith("curator", "curator");

let temporary: TemporaryStore;
let now = T0;
beforeEach(async () => {
  temporary = await temporaryStore();
  const { gateway } = await setUpSmallSite(temporary.store, T0 - HOUR);
  const light = await temporary.store.ensureStream("display-id", "illuminance", "probe", {
    interval: 15 * MINUTE,
    critical: false,
  });
  now = T0 + 5 * DAY;
  // Lit from 07:00 to 17:00 every day.
  const readings = Array.from({ length: 5 * 96 }, (_, i) => {
    const at = T0 + i * 15 * MINUTE;
    const hour = (at % DAY) / HOUR;
    const value = hour >= 7 && hour < 17 ? 900 : 0.8;
    return { stream: light.id, at, value, source: gateway, sequence: null, mark: null };
  });
  await temporary.store.append({ now, readings, rejected: [], unclaimed: [] });
});
afterEach(() => temporary.dispose());

const planned = (middle: string, validFrom: number) => {
  const { store } = temporary;
  const deps = { store, clock: () => now, setUp: createSetUpReader(store, () => now), newId: uuidV7 };
  const plan = { hours: [10], middle, latitude: null, validFrom, reason: "as planned", source: "invented" };
  return setLightPlan(deps, CURATOR, "bay", plan);
};
const found = async () =>
  (await temporary.store.readFindings({ limit: 20 })).filter((finding) => finding.kind === "light off");

test("a schedule set back in time is what the light since then is judged by, and another one judges it anew", async () => {
  const evaluator = await evaluatorOf(temporary.store, () => now);
  await evaluateAll(evaluator);
  expect(await found()).toEqual([]);
  await planned("13:00", T0 + DAY);
  await evaluateAll(evaluator);
  const [off, ...more] = await found();
  expect(more).toEqual([]);
  expect(off).toMatchObject({ rule: "clock", severity: "action", ended: null, late: true });
  expect(Math.abs((off?.began ?? 0) - (T0 + DAY + 7 * HOUR))).toBeLessThan(15 * MINUTE);
  await planned("12:00", T0 + DAY);
  await evaluateAll(evaluator);
  expect(await found()).toEqual([]);
});
