/** Everything that a person who may see all of it is shown of a store, by the read services, at one instant. */

import { openClimatology } from "#config/open.ts";
import { DEFAULTED_QUANTITIES } from "#core/habitat/index.ts";
import { askedAt } from "#core/set-up/follow-residents.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { readBenchForm } from "#services/bench/read-bench-form.ts";
import { readLastBench } from "#services/bench/read-last-bench.ts";
import { readCalendar } from "#services/calendar/read-calendar.ts";
import type { Actor, ReadDeps } from "#services/deps.ts";
import { readArrivals } from "#services/gateway/read-arrivals.ts";
import { readRejected } from "#services/gateway/read-rejected.ts";
import { readUnclaimed } from "#services/gateway/read-unclaimed.ts";
import { readNightCounts } from "#services/habitat/night-counts.ts";
import { readProfile } from "#services/habitat/read-profiles.ts";
import { readResidents } from "#services/habitat/read-residents.ts";
import { listHomeWater } from "#services/home-water/list-home-water.ts";
import { readSeasonProposal } from "#services/home-water/propose-season.ts";
import { readAnimalWater } from "#services/home-water/read-animal-water.ts";
import { readHomeWater } from "#services/home-water/read-home-water.ts";
import { readLightPlans } from "#services/home-water/read-light-plans.ts";
import { readImports } from "#services/importing/import-readings.ts";
import { readLog } from "#services/logbook/read-log.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { readAlarms } from "#services/overnight/read-alarms.ts";
import { readForecast } from "#services/overnight/read-forecast.ts";
import { draftHandover, readHandover, readHandovers } from "#services/overnight/read-handovers.ts";
import { readIncidents } from "#services/overnight/read-incidents.ts";
import { readOvernight } from "#services/overnight/read-overnight.ts";
import { type PeopleDeps, readPeople } from "#services/people/people.ts";
import { checkAudit, readAudit } from "#services/people/read-audit.ts";
import { readTokens } from "#services/people/tokens.ts";
import { readProbe } from "#services/probes/read-probe.ts";
import { readProbes } from "#services/probes/read-probes.ts";
import { readSeries } from "#services/series/read-series.ts";
import { readBands, readSystemSetUp } from "#services/set-up/read-set-up.ts";
import { createSetUpReader, type SystemSetUp } from "#services/set-up.ts";
import { readDerivedNow } from "#services/systems/read-derived-now.ts";
import { readStatesSince } from "#services/systems/read-states-since.ts";
import { readSystem } from "#services/systems/read-system.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { readWorking } from "#services/systems/read-working.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import { readUpkeep } from "#services/upkeep/read-health.ts";
import type { Store, Stream } from "#store/port.ts";
import { storedFacts } from "./stored-facts.ts";

/** The instant at which the store was asked: 07:00 at its site, after a night. */
export const ASKED_AT: Instant = Date.UTC(2025, 9, 28, 7);
/** Everything of it was measured since. */
export const FIRST_READING: Instant = Date.UTC(2025, 9, 25);
/** Sees to people and writes records: between the two roles nothing is left out. */
export const SEES_ALL: Actor = {
  id: "somebody",
  name: "Somebody",
  kind: "person",
  grants: [
    { role: "administrator", site: null, system: null },
    { role: "curator", site: null, system: null },
  ],
  mustChange: false,
};

/** By name of the question, then by what it was asked of. */
export type Answers = Readonly<Record<string, unknown>>;

const noPassword = () => {
  throw new Error("nobody is invited while a store is read");
};

export const readsOf = (store: Store, clock: () => Instant): ReadDeps => ({
  store,
  clock,
  setUp: createSetUpReader(store, clock),
  sweep: createSweepReader(store),
  ahead: createAheadReader(store),
  seesAll: true,
});

const nameOf = ({ pointCode, quantity, origin }: Stream) => `${pointCode}/${quantity}/${origin}`;

async function each<T>(rows: readonly T[], name: (row: T) => string, ask: (row: T) => Promise<unknown>) {
  const found: Record<string, unknown> = {};
  for (const row of rows) found[name(row)] = await ask(row);
  return found;
}

/** The last day as it is drawn, the whole as days, and of one stream a system every reading with its flags. */
async function seriesOf(
  reads: ReadDeps,
  { system: { code } }: SystemSetUp,
  stream: Stream,
  isWhole: boolean,
) {
  const { quantity, pointCode: point, origin } = stream;
  const where = { quantity, point, origin, to: ASKED_AT };
  const ask = (from: Instant, resolution: "raw" | "15min" | "day") =>
    readSeries(reads, code, { ...where, from, resolution });
  if (origin === "bench") return { raw: await ask(FIRST_READING, "raw") };
  return {
    night: await ask(ASKED_AT - DAY / 2, "15min"),
    days: await ask(FIRST_READING, "day"),
    ...(isWhole ? { raw: await ask(FIRST_READING, "raw") } : {}),
  };
}

const isProbe = ({ origin }: Stream) => origin === "probe";

/** What the type of a system alone asks for, nobody living in it. */
function startingBands(at: SystemSetUp): Answers {
  const alone = { at, stays: [], profiles: [], compromises: [] };
  return Object.fromEntries(
    DEFAULTED_QUANTITIES.map((quantity) => [quantity, askedAt(alone, quantity, ASKED_AT)?.months[0] ?? null]),
  );
}

/** What is shown of one system. */
async function systemAnswers(reads: ReadDeps, at: SystemSetUp): Promise<Answers> {
  const { code } = at.system;
  const whole = at.streams.find((stream) => stream.quantity === "temperature" && isProbe(stream));
  const derived = at.streams.filter((stream) => stream.origin === "derived");
  return {
    state: await readSystem(reads, code),
    setUp: await readSystemSetUp(reads, code),
    starting: startingBands(at),
    bands: await readBands(reads, code),
    residents: await readResidents(reads, code),
    lightPlans: await readLightPlans(reads, code),
    lastBench: await readLastBench(reads, code, 10),
    benchForm: await readBenchForm(reads, code),
    derivedNow: await readDerivedNow(reads, code),
    statesSince: await readStatesSince(reads, code),
    homeWater: await readHomeWater(reads, code),
    season: await readSeasonProposal({ ...reads, climatology: openClimatology() }, code, {
      quantity: "temperature",
    }),
    forecast: await each(at.streams.filter(isProbe), nameOf, ({ quantity, pointCode: point }) =>
      readForecast(reads, code, { quantity, point }),
    ),
    working: await each(derived, nameOf, ({ quantity, pointCode: point }) =>
      readWorking(reads, code, { quantity, point }),
    ),
    series: await each(at.streams, nameOf, (stream) => seriesOf(reads, at, stream, stream === whole)),
  };
}

/** What would be signed now; its night stands under "overnight". */
async function draftOf(reads: ReadDeps): Promise<Answers> {
  const { from, to, unanswered, open } = await draftHandover(reads);
  return { from, to, unanswered: unanswered.map(({ id }) => id), open: open.map(({ id }) => id) };
}

/** Each row with its link of the chain, which holds what was recorded. */
async function auditOf(reads: ReadDeps): Promise<Answers> {
  const { rows } = await readAudit(reads, SEES_ALL, { limit: 1_000 });
  return { rows: rows.map(({ record: _record, ...row }) => row) };
}

/** Asks all of it. Throws where a question is refused: a store that cannot be read has no answers. */
export async function answersOf(store: Store): Promise<Answers> {
  const clock = () => ASKED_AT;
  const reads = readsOf(store, clock);
  const writes = { ...reads, newId: noPassword };
  const people: PeopleDeps = {
    ...writes,
    auth: {
      hash: noPassword,
      isPassword: noPassword,
      limits: { oneTimeMs: 0 } as PeopleDeps["auth"]["limits"],
    },
    oneTimePassword: noPassword,
  };
  const index = await reads.setUp.read();
  const animals = [...new Set(index.setUp.residents.map((stay) => stay.animal))];
  const { handovers } = await readHandovers(reads);
  const probes = index.systems.flatMap((at) => at.streams.filter(isProbe));
  const { upkeep, detail } = await readUpkeep(reads, "0");
  return {
    stored: await storedFacts(store),
    systems: await readSystems(reads),
    system: await each(
      index.systems,
      (at) => at.system.code,
      (at) => systemAnswers(reads, at),
    ),
    overnight: await readOvernight(reads, {}),
    alarms: await readAlarms(reads, { active: "true" }),
    everyAlarm: await readAlarms(reads, { active: "false", from: FIRST_READING, to: ASKED_AT }),
    incidents: await readIncidents(reads, {}),
    log: await readLog(reads, { from: FIRST_READING - 400 * DAY, to: ASKED_AT + DAY }),
    probes: await readProbes(reads),
    probe: await each(
      probes,
      (stream) => String(stream.id),
      (stream) => readProbe(reads, stream.id),
    ),
    calendar: await each(["2025-10", "2025-11", "2026-03"], String, (month) =>
      readCalendar(reads, { month }),
    ),
    handovers,
    handover: await each(
      handovers,
      ({ id }) => id,
      ({ id }) => readHandover(reads, id),
    ),
    draft: await draftOf(reads),
    arrivals: await readArrivals(reads, {}),
    rejected: await readRejected(reads),
    unclaimed: await readUnclaimed(reads),
    homeWater: await listHomeWater(reads),
    animalWater: await each(animals, String, (animal) => readAnimalWater(reads, animal)),
    profiles: await each(
      (await store.readHabitat()).species,
      ({ id }) => id,
      ({ id }) => readProfile(reads, id),
    ),
    nightCounts: await readNightCounts(reads),
    imports: await readImports(writes, SEES_ALL),
    people: await readPeople(people, SEES_ALL),
    tokens: await readTokens(writes, SEES_ALL),
    audit: await auditOf(reads),
    auditCheck: await checkAudit(reads, SEES_ALL),
    health: {
      counts: detail?.counts,
      behind: detail?.behind,
      dirty: detail?.rejudging,
      journal: detail?.journal,
      cursor: detail?.cursor,
      items: upkeep?.items.map(({ id, state, since }) => ({ id, state, since })),
      senders: upkeep?.senders,
      backups: upkeep?.backups,
    },
  };
}
