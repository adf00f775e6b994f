import { AUTH_LIMITS } from "#auth/limits.ts";
import { recordBench } from "#services/bench/record-bench.ts";
import { placeReadings } from "#services/gateway/place-readings.ts";
import { openWatch } from "#services/habitat/breeding.ts";
import { saveProfile } from "#services/habitat/profiles.ts";
import { moveIn } from "#services/habitat/residents.ts";
import { addHomeWaterSeries } from "#services/home-water/home-water-plans.ts";
import { setLightPlan } from "#services/home-water/light-plans.ts";
import { beginImport, continueImport } from "#services/importing/import-readings.ts";
import { writeLog } from "#services/logbook/write-log.ts";
import { recordCalibration } from "#services/probes/record-calibration.ts";
import { changeSystem } from "#services/set-up/change-system.ts";
import { hasherOver } from "../helpers/sign-in.ts";
import {
  calibration1,
  entries,
  entry1,
  type Fixture,
  import1,
  light1,
  series1,
  skate,
  test1,
  trial1,
} from "./verbs.ts";
import { actorWith, alarm, band, finding, NOW, openWorld, system } from "./world.ts";

/** A small aquarium in which every verb has something to act on. */
export async function openFixture(): Promise<Fixture> {
  const world = await openWorld([system("reef"), system("kelp")], [band("reef")]);
  const { store } = world;
  const curator = actorWith("curator", "setter");
  const reef = await world.stream("reef", "display", "temperature");
  const open = finding(reef, { severity: "action" });
  const clocks = ["clock-1", "clock-2"].map((id, n) => ({
    ...{ id, clock: id, source: n + 1, stream: reef.id, since: NOW - 3_600_000, until: null },
    ...{ offset: 1_800_000, uncertainty: 60_000 },
  }));
  await world.evaluated({ findings: [open], alarms: [alarm(open)], clocks });
  const { placement } = await placeReadings(world.write, curator, "clock-2", { clientId: "old-place" });
  const bench = await recordBench(world.write, curator, { ...test1, clientId: "old-test" });
  const log = await writeLog(world.write, curator, { ...entry1, clientId: "old-entry" });
  const { calibration } = await recordCalibration(world.write, curator, reef.id, {
    ...calibration1,
    clientId: "old-calibration",
  });
  const { change } = await changeSystem(world.write, curator, "reef", { volume: 11, reason: "measured" });
  const begun = await beginImport(world.write, curator, { ...import1, fingerprint: "of-an-old-file" });
  await continueImport(world.write, curator, begun.id, { bytes: 0, text: trial1.text, final: false });
  await saveProfile(world.write, curator, "cold-skate", { species: skate, entries, reason: "first" });
  const warm = entries.map((each) => ({ ...each, low: 20, high: 26 }));
  await saveProfile(world.write, curator, "warm-ray", {
    species: { id: "warm-ray", name: "Warm ray" },
    entries: warm,
    reason: "first",
  });
  const at = new Date(NOW - 86_400_000).toISOString();
  const lives = { stage: "adult", count: 1, at };
  const { id: stay } = await moveIn(world.write, curator, "reef", { ...lives, species: "cold-skate" });
  await moveIn(world.write, curator, "reef", { ...lives, species: "warm-ray" });
  const watching = {
    kind: "gestation",
    first: at,
    last: at,
    shortestDays: 1,
    longestDays: 2,
    source: "invented",
  };
  const { id: watch } = await openWatch(world.write, curator, "reef", { ...watching, animal: stay });
  const compromise = "compromise-reef";
  const signed = {
    id: compromise,
    system: "s-reef",
    quantity: "temperature",
    months: [2],
    lowSide: { species: "warm-ray", stage: "adult" as const },
    highSide: { species: "cold-skate", stage: "adult" as const },
    low: 14,
    high: 16,
    actionLow: null,
    actionHigh: null,
    reason: "until one moves",
    signedBy: "setter",
    signedAt: NOW,
    validFrom: NOW,
    validTo: null,
  };
  const made = {
    at: NOW,
    actor: "setter",
    actorId: "id-setter",
    verb: "made",
    subject: "compromise",
    record: {},
  };
  await store.writeHabitat({ compromises: [signed] }, [], NOW, made);
  const { id: series } = await addHomeWaterSeries(world.write, curator, series1);
  const { id: light } = await setLightPlan(world.write, curator, "reef", {
    ...light1,
    validFrom: NOW - 86_400_000,
  });
  const { hash } = hasherOver(store);
  const audit = { at: NOW, actor: "t", actorId: "t", verb: "set-up", subject: "t", record: {} };
  const person = {
    id: "person-ada",
    userName: "ada",
    name: "Ada",
    email: "ada@homewater.invalid",
    disabled: false,
    mustChange: false,
    oneTimeUntil: null,
    created: NOW,
    lastSignIn: null,
  };
  await store.writePerson({ person, passwordHash: "none" }, NOW, audit);
  const boss = { ...person, id: "person-boss", userName: "boss", email: "boss@homewater.invalid" };
  const grants = [{ role: "administrator" as const, site: null, system: null }];
  await store.writePerson({ person: boss, grants, passwordHash: "none" }, NOW, audit);
  const token = {
    role: "viewer" as const,
    site: null,
    system: null,
    madeBy: "t",
    made: NOW,
    expires: NOW * 2,
    revoked: null,
  };
  await store.addToken({ ...token, id: "token-1", name: "wall", hash: "x" }, audit);
  const auth = { hash, isPassword: async () => false, limits: AUTH_LIMITS };
  return {
    series,
    world,
    people: { ...world.write, auth, oneTimePassword: () => "word-word-word" },
    alarm: alarm(open).id,
    result: bench.results[0]?.id ?? "",
    entry: log.entry.id,
    calibration: calibration.id,
    ...{ clock: "clock-1", placement },
    stream: reef.id,
    change,
    import: begun.id,
    stay,
    animal: stay,
    watch,
    compromise,
    light,
  };
}
