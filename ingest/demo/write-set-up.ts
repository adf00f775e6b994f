/** Sets up the scenario's site: systems, points, streams, bands, plans, residents. Nothing is measured here. */
import type { Instant } from "#core/time/index.ts";
import type { Loop, Plan, Point, Resident, Store, System, TargetBand } from "#store/port.ts";
import { openClock, type ScenarioClock } from "../scenario/clock.ts";
import { placeKey, type Scenario } from "../scenario/load.ts";
import { planShape } from "../scenario/ordinary.ts";
import { writeLightPlans } from "./write-light-plans.ts";

const systemId = (code: string) => `system-${code}`;
const pointId = (system: string, point: string) => `point-${system}-${point}`;

/** Bands and residents without a date of their own have been in force as long as anything was measured. */
const ALWAYS: Instant = 0;

function systemsOf(scenario: Scenario, site: string): System[] {
  return scenario.systems.map((system) => ({
    id: systemId(system.code),
    site,
    code: system.code,
    name: system.name,
    kind: system.kind,
    type: system.type,
    startingBands: system.startingBands,
    water: system.water,
    volume: system.volumeM3,
    duty: system.flowDutyM3h,
    opened: ALWAYS,
    closed: null,
    youngFilter: system.youngFilter,
  }));
}

function pointsOf(scenario: Scenario): Point[] {
  return scenario.systems.flatMap((system) =>
    Object.entries(system.points).map(([code, role]) => ({
      id: pointId(system.code, code),
      system: systemId(system.code),
      code,
      role,
      roleGuessed: false,
      twinOf: null,
    })),
  );
}

function bandsOf(scenario: Scenario, clock: ScenarioClock, now: Instant): TargetBand[] {
  return scenario.bands.map((band, i) => {
    const { low, high, actionLow, actionHigh, urgentLow, urgentHigh } = band;
    return {
      id: `band-${i}`,
      system: systemId(band.system),
      quantity: band.quantity,
      point: band.point,
      months: [{ low, high, actionLow, actionHigh, urgentLow, urgentHigh }],
      validFrom: band.from ? clock.instantOf(band.from) : ALWAYS,
      validTo: band.to ? clock.instantOf(band.to) : null,
      recordedAt: now,
      setBy: band.setBy,
      reason: band.reason,
      source: band.source,
    };
  });
}

function plansOf(scenario: Scenario, clock: ScenarioClock): Plan[] {
  return scenario.plans.flatMap((plan) => {
    const shape = planShape(plan, clock);
    if (!shape || !("quantity" in plan)) return [];
    return plan.systems.map((system) => ({
      id: `plan-${plan.code}-${system}`,
      system: systemId(system),
      quantity: plan.quantity,
      shape,
      validFrom: ALWAYS,
      validTo: null,
      setBy: plan.setBy,
      reason: plan.source,
    }));
  });
}

function residentsOf(scenario: Scenario, clock: ScenarioClock): Resident[] {
  return scenario.residents.map((resident, i) => ({
    id: `resident-${i}`,
    animal: `animal-${resident.species}-${resident.name?.toLowerCase().replaceAll(" ", "-") ?? resident.system}`,
    population: null,
    sex: resident.sex ?? null,
    ended: null,
    system: systemId(resident.system),
    species: resident.species,
    speciesName:
      scenario.species.find((species) => species.code === resident.species)?.name ?? resident.species,
    name: resident.name ?? null,
    stage: resident.stage,
    count: resident.count,
    from: clock.instantOf(resident.from),
    to: resident.to ? clock.instantOf(resident.to) : null,
  }));
}

const loopsOf = (scenario: Scenario, site: string): Loop[] =>
  scenario.loops.map(({ code, name, systems }) => ({
    id: `loop-${code}`,
    site,
    code,
    name,
    members: systems.map(systemId),
  }));

/** Writes the set-up and gives the store's stream ids in the order of streams.json. Safe to repeat. */
export async function writeSetUp(
  store: Store,
  scenario: Scenario,
  anchor: Instant,
  now: Instant,
): Promise<number[]> {
  const { site } = scenario;
  const clock = openClock(site.zone, anchor);
  const id = `site-${site.code}`;
  await store.writeSetUp(
    {
      sites: [
        {
          id,
          code: site.code,
          name: site.name,
          zone: site.zone,
          latitude: site.latitude,
          longitude: site.longitude,
          elevation: site.elevationM,
        },
      ],
      systems: systemsOf(scenario, id),
      loops: loopsOf(scenario, id),
      points: pointsOf(scenario),
      bands: bandsOf(scenario, clock, now),
      plans: plansOf(scenario, clock),
      residents: residentsOf(scenario, clock),
    },
    [],
    now,
  );
  await writeLightPlans(store, scenario, systemId, now);
  return streamIds(store, scenario);
}

/** The store's ids of the scenario's streams, created where they do not exist yet, with their expected interval. */
export async function streamIds(store: Store, scenario: Scenario): Promise<number[]> {
  const ids: number[] = [];
  for (const stream of scenario.streams) {
    const settings = { interval: stream.intervalS * 1000, critical: stream.critical };
    const { id } = await store.ensureStream(
      pointId(stream.system, stream.point),
      stream.quantity,
      stream.origin,
      settings,
    );
    ids.push(id);
  }
  if (new Set(ids).size !== ids.length)
    throw new Error(`two streams of the scenario share one id: ${scenario.streams.map(placeKey)}`);
  return ids;
}
