/** Every verb of the services: who may do it, and a call that it accepts. */
import { openClimatology } from "#climate/open.ts";
import { importPlan } from "#core/importing/plan.ts";
import { EMPTY_POSITION } from "#core/importing/progress.ts";
import type { Role } from "#core/people/index.ts";
import { correctBench, voidBench } from "#services/bench/change-bench.ts";
import { recordBench } from "#services/bench/record-bench.ts";
import type { Actor } from "#services/deps.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { placeReadings, withdrawPlacement } from "#services/gateway/place-readings.ts";
import { postReadings } from "#services/gateway/post-readings.ts";
import { noteBreeding, openWatch, recordBirth } from "#services/habitat/breeding.ts";
import { confirmBand, signCompromise } from "#services/habitat/compromises.ts";
import { recordNightCount } from "#services/habitat/night-counts.ts";
import { addFromLibrary, importProfile, saveProfile } from "#services/habitat/profiles.ts";
import { changeStage, correctStay, moveAnimal, moveIn } from "#services/habitat/residents.ts";
import { withdrawCompromise } from "#services/habitat/withdraw-compromise.ts";
import { loadHomeWaterFile, tryHomeWaterFile } from "#services/home-water/home-water-file.ts";
import {
  addHomeWaterSeries,
  adoptSeasonPlan,
  withdrawHomeWaterSeries,
} from "#services/home-water/home-water-plans.ts";
import { setLightPlan, withdrawLightPlan } from "#services/home-water/light-plans.ts";
import {
  beginImport,
  continueImport,
  tryImport,
  withdrawImport,
} from "#services/importing/import-readings.ts";
import { closeLog, correctLog } from "#services/logbook/change-log.ts";
import { writeLog } from "#services/logbook/write-log.ts";
import { acknowledgeAlarm } from "#services/overnight/acknowledge-alarm.ts";
import { signHandover } from "#services/overnight/sign-handover.ts";
import {
  disablePerson,
  enablePerson,
  endSessions,
  invitePerson,
  type PeopleDeps,
  readPeople,
  renewPassword,
  setGrants,
} from "#services/people/people.ts";
import { checkAudit, readAudit } from "#services/people/read-audit.ts";
import { addToken, readTokens, revokeToken } from "#services/people/tokens.ts";
import { recordCalibration, voidCalibration } from "#services/probes/record-calibration.ts";
import { changeBand } from "#services/set-up/change-band.ts";
import { addPoint, changePoint } from "#services/set-up/change-point.ts";
import { changeStream } from "#services/set-up/change-stream.ts";
import { addSystem, changeSystem } from "#services/set-up/change-system.ts";
import { undoChange } from "#services/set-up/undo-change.ts";
import { NOW, type World } from "./world.ts";

const AT = new Date(NOW - 60_000).toISOString();
const RECORDERS: readonly Role[] = ["aquarist", "technician", "curator"];
const SHIFT: readonly Role[] = ["technician", "curator"];
const ADMINISTRATOR: readonly Role[] = ["administrator"];

export interface Fixture {
  readonly series: string;
  readonly world: World;
  readonly people: PeopleDeps;
  /** Ids of what stands in the store. */
  readonly alarm: string;
  readonly result: string;
  readonly entry: string;
  readonly calibration: string;
  /** A clock that ran ahead, and the placement of what came under another one. */
  readonly clock: string;
  readonly placement: string;
  readonly stream: number;
  readonly change: number;
  readonly import: string;
  readonly stay: string;
  readonly animal: string;
  readonly watch: string;
  readonly compromise: string;
  readonly light: string;
}
interface Verb {
  readonly may: readonly Role[];
  /** What it asks of the store when it is allowed; audited unless it only reads or is said otherwise. */
  readonly call: (fixture: Fixture, actor: Actor) => Promise<unknown>;
  readonly writes: boolean;
  /** A grant for another system does not do. */
  readonly placed: boolean;
}
export const placed = (may: readonly Role[], call: Verb["call"], writes = true): Verb => ({
  may,
  call,
  writes,
  placed: true,
});
const whole = (may: readonly Role[], call: Verb["call"], writes = true): Verb => ({
  may,
  call,
  writes,
  placed: false,
});

export const series1 = {
  name: "Our own shore station",
  latitude: 33,
  longitude: -117,
  quantity: "temperature",
  months: Array.from({ length: 12 }, (_, i) => ({ value: 15 + i / 4, spread: 0.5 })),
  reason: "nearer than any box",
  source: "logger of the station",
};
export const light1 = {
  hours: [11],
  middle: "13:00",
  latitude: null,
  reason: "as it was",
  source: "ourselves",
};
const look1 = {
  latitude: 33,
  longitude: -117,
  quantity: "temperature",
  text: `month,value\n${Array.from({ length: 12 }, (_, i) => `${i + 1},${15 + i / 4}`).join("\n")}\n`,
};
export const test1 = {
  clientId: "new-test",
  system: "reef",
  point: "display",
  sampledAt: AT,
  results: [{ quantity: "ph", value: "8.1", unit: "[pH]" }],
};
export const entry1 = {
  clientId: "new-entry",
  kind: "backwash",
  systems: ["reef"],
  at: AT,
  open: true,
  text: "filters",
};
export const calibration1 = { kind: "calibration", at: AT, standards: [{ value: 25, read: 25.2 }] };
const edges = { low: 24, high: 26, actionLow: 22, actionHigh: 29, urgentLow: null, urgentHigh: null };
const band1 = { quantity: "temperature", months: [edges], reason: "warmer residents", source: "the curator" };

const plan1 = importPlan.parse({
  encoding: "utf-8",
  delimiter: ",",
  decimal: ".",
  headingLine: 1,
  time: { columns: ["t"], format: "iso", zone: "Z", twice: "refuse" },
  missing: [],
  layout: {
    kind: "wide",
    columns: [
      { column: "temp", target: { system: "reef", point: "display", quantity: "temperature", unit: null } },
    ],
  },
});
export const trial1 = {
  plan: plan1,
  text: "t,temp\n2026-01-01 00:00,25\n",
  final: true,
  position: EMPTY_POSITION,
};
export const import1 = { plan: plan1, file: "sonde.csv", bytes: 100, fingerprint: "of-a-new-file" };
export const reached = async (world: World, id: string) =>
  (await world.store.readImport(id))?.position.bytes ?? -1;
const CURATOR: readonly Role[] = ["curator"];
export const entries = [
  {
    quantity: "temperature",
    low: 8,
    high: 11,
    means: "author's stated range",
    kind: "advice",
    source: "invented",
    mark: "common practice, no source",
    confidence: "low",
  },
];
export const skate = { id: "cold-skate", name: "Cold skate" };
const file1 = {
  format: "homewater profile 1" as const,
  species: {
    ...skate,
    scientific: null,
    group: null,
    development: [],
    mayDelay: null,
    delaySource: null,
    facts: [],
  },
  profiles: [],
};

export const VERBS: Readonly<Record<string, Verb>> = {
  adoptSeasonPlan: placed(["curator"], ({ world }, actor) =>
    adoptSeasonPlan(world.write, actor, "reef", {
      quantity: "temperature",
      setPoints: [
        [NOW, 25],
        [NOW + 7 * 86_400_000, 25.5],
      ],
      rate: 0.7,
      despiteWatch: true,
      reason: "spring",
      source: "home water",
    }),
  ),
  setLightPlan: placed(["curator"], ({ world }, actor) => setLightPlan(world.write, actor, "reef", light1)),
  recordNightCount: placed(RECORDERS, ({ world, watch }, actor) =>
    recordNightCount(world.write, actor, watch, { clientId: "night-1", counted: 1 }),
  ),
  withdrawLightPlan: placed(["curator"], ({ world, light }, actor) =>
    withdrawLightPlan(world.write, actor, light, { reason: "typed into the wrong system" }),
  ),
  addHomeWaterSeries: whole(["curator"], ({ world }, actor) =>
    addHomeWaterSeries(world.write, actor, series1),
  ),
  tryHomeWaterFile: whole(
    ["curator"],
    ({ world }, actor) => tryHomeWaterFile({ ...world.write, climatology: openClimatology() }, actor, look1),
    false,
  ),
  loadHomeWaterFile: whole(["curator"], ({ world }, actor) =>
    loadHomeWaterFile(world.write, actor, {
      ...look1,
      name: "Our pier",
      source: "logger of the pier",
      reason: "nearer than a box",
    }),
  ),
  withdrawHomeWaterSeries: whole(["curator"], ({ world, series }, actor) =>
    withdrawHomeWaterSeries(world.write, actor, series),
  ),
  saveProfile: whole(CURATOR, ({ world }, actor) =>
    saveProfile(world.write, actor, "cold-skate", { species: skate, entries, reason: "again" }),
  ),
  importProfile: whole(CURATOR, ({ world }, actor) =>
    importProfile(world.write, actor, "cold-skate", {
      format: "csv",
      text: "quantity,low,high,means,kind,source,mark,confidence\ntemperature,8,11,extremes seen,advice,invented,read,low\n",
      reason: "from a table",
    }),
  ),
  addFromLibrary: whole(CURATOR, ({ world }, actor) =>
    addFromLibrary({ ...world.write, library: async () => [file1] }, actor, { species: ["cold-skate"] }),
  ),
  moveIn: placed(CURATOR, ({ world }, actor) =>
    moveIn(world.write, actor, "reef", { species: "cold-skate", stage: "adult", count: 2 }),
  ),
  moveAnimal: placed(CURATOR, ({ world, stay }, actor) =>
    moveAnimal(world.write, actor, stay, { to: null, how: "left" }),
  ),
  changeStage: placed(CURATOR, ({ world, stay }, actor) =>
    changeStage(world.write, actor, stay, { stage: "breeding" }),
  ),
  correctStay: placed(CURATOR, ({ world, stay }, actor) =>
    correctStay(world.write, actor, stay, { count: 2, reason: "counted again" }),
  ),
  recordBirth: placed(CURATOR, ({ world, animal }, actor) =>
    recordBirth(world.write, actor, "reef", { species: "cold-skate", mother: animal, live: 3 }),
  ),
  openWatch: placed(CURATOR, ({ world, animal }, actor) =>
    openWatch(world.write, actor, "reef", {
      animal,
      kind: "gestation",
      first: AT,
      last: null,
      shortestDays: 200,
      longestDays: 250,
      source: "invented",
    }),
  ),
  noteBreeding: placed(CURATOR, ({ world, watch }, actor) =>
    noteBreeding(world.write, actor, watch, { kind: "ultrasound", embryos: 1 }),
  ),
  signCompromise: placed(CURATOR, ({ world }, actor) =>
    signCompromise(world.write, actor, "reef", {
      quantity: "temperature",
      months: [1],
      low: 14,
      high: 16,
      reason: "until one moves",
    }),
  ),
  withdrawCompromise: placed(CURATOR, ({ world, compromise }, actor) =>
    withdrawCompromise(world.write, actor, compromise, { reason: "one has moved" }),
  ),
  confirmBand: placed(CURATOR, ({ world }, actor) =>
    confirmBand(world.write, actor, "reef", { quantity: "temperature", reason: "handed to the residents" }),
  ),
  recordBench: placed(RECORDERS, ({ world }, actor) => recordBench(world.write, actor, test1)),
  correctBench: placed(RECORDERS, ({ world, result }, actor) =>
    correctBench(world.write, actor, result, {
      clientId: "fix",
      value: "8.2",
      unit: "[pH]",
      reason: "misread",
    }),
  ),
  voidBench: placed(RECORDERS, ({ world, result }, actor) =>
    voidBench(world.write, actor, result, { clientId: "void", reason: "wrong tank" }),
  ),
  acknowledgeAlarm: placed(RECORDERS, ({ world, alarm: id }, actor) =>
    acknowledgeAlarm(world.write, actor, id, { clientId: "seen" }),
  ),
  writeLog: placed(RECORDERS, ({ world }, actor) => writeLog(world.write, actor, entry1)),
  closeLog: placed(RECORDERS, ({ world, entry }, actor) =>
    closeLog(world.write, actor, entry, { clientId: "close", at: AT }),
  ),
  correctLog: placed(RECORDERS, ({ world, entry }, actor) =>
    correctLog(world.write, actor, entry, {
      clientId: "correct",
      reason: "two filters",
      text: "two filters",
    }),
  ),
  tryImport: placed(["curator"], ({ world }, actor) => tryImport(world.write, actor, trial1), false),
  beginImport: placed(["curator"], ({ world }, actor) => beginImport(world.write, actor, import1)),
  continueImport: placed(
    ["curator"],
    async ({ world, import: id }, actor) =>
      continueImport(world.write, actor, id, {
        bytes: await reached(world, id),
        text: "2026-01-01,25\n",
        final: false,
      }),
    false,
  ),
  withdrawImport: placed(["curator"], ({ world, import: id }, actor) =>
    withdrawImport(world.write, actor, id, { reason: "wrong unit" }),
  ),
  recordCalibration: placed(SHIFT, ({ world, stream }, actor) =>
    recordCalibration(world.write, actor, stream, { ...calibration1, clientId: "new-calibration" }),
  ),
  voidCalibration: placed(SHIFT, ({ world, calibration }, actor) =>
    voidCalibration(world.write, actor, calibration, { clientId: "unmake", reason: "another probe" }),
  ),
  placeReadings: placed(SHIFT, ({ world, clock }, actor) =>
    placeReadings(world.write, actor, clock, { clientId: "place" }),
  ),
  withdrawPlacement: placed(SHIFT, ({ world, placement }, actor) =>
    withdrawPlacement(world.write, actor, placement, { clientId: "take-back" }),
  ),
  changeStream: placed([...SHIFT, "administrator"], ({ world, stream }, actor) =>
    changeStream(world.write, actor, stream, { critical: false, reason: "a spare probe" }),
  ),
  changeBand: placed(["curator"], ({ world }, actor) => changeBand(world.write, actor, "reef", band1)),
  changeSystem: placed(["curator", "administrator"], ({ world }, actor) =>
    changeSystem(world.write, actor, "reef", { volume: 12, reason: "measured" }),
  ),
  addPoint: placed(["curator", "administrator"], ({ world }, actor) =>
    addPoint(world.write, actor, "reef", { code: "filter-outlet" }),
  ),
  changePoint: placed(["curator", "administrator"], ({ world }, actor) =>
    changePoint(world.write, actor, "reef", "sump", { role: "filter", reason: "behind the sand filter" }),
  ),
  undoChange: placed(["curator", "administrator"], ({ world, change }, actor) =>
    undoChange(world.write, actor, change, { reason: "was right" }),
  ),
  addSystem: whole(["curator", "administrator"], ({ world }, actor) =>
    addSystem(world.write, actor, {
      site: "harbour",
      code: "new-pool",
      name: "New Pool",
      kind: "holding",
      type: "holding",
      water: "marine",
      volume: 3,
    }),
  ),
  signHandover: whole(SHIFT, ({ world, alarm: id }, actor) =>
    signHandover({ ...world.write, ...world.read }, actor, {
      clientId: "sign",
      note: "quiet",
      passesTo: "the day shift",
      seen: [id],
    }),
  ),
  // Readings carry their source in each row; they are no audited write.
  postReadings: whole(
    SHIFT,
    ({ world }, actor) =>
      postReadings(createAcceptor({ store: world.store, clock: () => world.now }), actor, {
        readings: [{ system: "reef", point: "display", quantity: "temperature", at: NOW - 1, value: 25 }],
      }),
    false,
  ),
  readAudit: whole(
    ["curator", "administrator"],
    ({ world }, actor) => readAudit(world.write, actor, {}),
    false,
  ),
  checkAudit: whole(
    ["curator", "administrator"],
    ({ world }, actor) => checkAudit(world.write, actor),
    false,
  ),
  readPeople: whole(ADMINISTRATOR, ({ people }, actor) => readPeople(people, actor), false),
  invitePerson: whole(ADMINISTRATOR, ({ people }, actor) =>
    invitePerson(people, actor, { userName: "new", name: "New Person", grants: [{ role: "viewer" }] }),
  ),
  setGrants: whole(ADMINISTRATOR, ({ people }, actor) =>
    setGrants(people, actor, "person-ada", { grants: [{ role: "curator", system: "reef" }] }),
  ),
  disablePerson: whole(ADMINISTRATOR, ({ people }, actor) => disablePerson(people, actor, "person-ada", {})),
  enablePerson: whole(ADMINISTRATOR, ({ people }, actor) => enablePerson(people, actor, "person-ada", {})),
  endSessions: whole(ADMINISTRATOR, ({ people }, actor) => endSessions(people, actor, "person-ada", {})),
  renewPassword: whole(ADMINISTRATOR, ({ people }, actor) => renewPassword(people, actor, "person-ada", {})),
  readTokens: whole(ADMINISTRATOR, ({ world }, actor) => readTokens(world.write, actor), false),
  addToken: whole(ADMINISTRATOR, ({ world }, actor) =>
    addToken(world.write, actor, { name: "hall wall", role: "viewer" }),
  ),
  revokeToken: whole(ADMINISTRATOR, ({ world }, actor) => revokeToken(world.write, actor, "token-1")),
};
