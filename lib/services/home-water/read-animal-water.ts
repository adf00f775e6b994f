import type { AnimalWaterQuery, AnimalWaterView, VisitView } from "#contract/animal-water.ts";
import { addTallies, fitOf, siteMonths } from "#core/fit/index.ts";
import { livingAt, profileFor, type Visit, visitsOf } from "#core/habitat/index.ts";
import { homeQuantities, lifeSentence } from "#core/home-water/index.ts";
import type { Resident } from "#core/set-up/set-up.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import type { Span } from "#core/time/spans.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Habitat } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { notFound } from "../errors.ts";
import { lookUp, type SystemSetUp } from "../set-up.ts";
import {
  askedOfVisit,
  countedVisit,
  type QuantityRequest,
  type QuantityTally,
  stretchesAsked,
  taker,
} from "./animal-visits.ts";
import { yearAt } from "./read-fits.ts";

/** Years of quarter hours are counted again at each request. */
const LONGEST = 3_660 * DAY;

interface VisitRequest {
  readonly at: SystemSetUp;
  readonly visit: Visit<Resident>;
  readonly asked: readonly QuantityRequest[];
}
interface VisitTally extends VisitRequest {
  readonly counted: readonly QuantityTally[];
}

/** The time an animal has lived here up to now, the newest ten years of it at most. */
function lifeSoFar(stays: readonly Resident[], now: Instant): Span {
  const from = Math.min(...stays.map((stay) => stay.from));
  const to = Math.min(now, Math.max(...stays.map((stay) => stay.to ?? now)));
  return { from: Math.max(from, to - LONGEST), to: Math.max(from, to) };
}

/** The part of a life in a calendar year of a site. */
function partIn(life: Span, year: number, zone: string): Span {
  const months = siteMonths(year, zone);
  const from = Math.max(life.from, months[0]?.from ?? life.from);
  return { from, to: Math.max(from, Math.min(life.to, months.at(-1)?.to ?? life.to)) };
}

function visitView({ at, visit, counted }: VisitTally): VisitView {
  const last = visit.stays.reduce((newest, stay) => (stay.from >= newest.from ? stay : newest));
  return {
    system: at.system.code,
    systemName: at.system.name,
    siteName: at.site.name,
    zone: at.site.zone,
    from: visit.from,
    to: visit.to,
    ended: visit.to === null ? null : last.ended,
    stays: visit.stays.map(({ stage, count, from, to }) => ({ stage, count, from, to })),
    quantities: counted.map(({ view }) => view),
  };
}

function sourcesOf(counted: readonly QuantityTally[]): AnimalWaterView["quantities"][number]["sources"] {
  const all = counted.flatMap(({ staged }) =>
    staged.flatMap(({ stage, ribbon }) =>
      ribbon.entries.map(({ place, source, mark, confidence }) => ({
        stage,
        basis: ribbon.basis,
        place,
        source,
        mark,
        confidence,
      })),
    ),
  );
  return [...new Map(all.map((each) => [JSON.stringify(each), each])).values()];
}

/** A quantity over every system: counted quarter hour by quarter hour; a system that measured none of it lowers what was read, never the fit. */
function lifeOf(quantity: string, visits: readonly VisitTally[]): AnimalWaterView["quantities"][number] {
  const of = visits.flatMap((each) =>
    each.counted
      .filter(({ view }) => view.quantity === quantity)
      .map((counted) => ({ ...each, one: counted })),
  );
  const total = (key: "good" | "possible") => of.reduce((sum, { one }) => sum + one.view.read[key], 0);
  const read = { good: total("good"), possible: total("possible") };
  const fits = (["native", "advice"] as const).flatMap((basis) => {
    const held = of.flatMap(({ one }) => one.held.filter((each) => each.basis === basis));
    if (held.length === 0) return [];
    const possible = held.reduce((sum, each) => sum + each.possible, 0);
    return [{ basis, fit: fitOf(addTallies(held.map(({ tally }) => tally)), possible) }];
  });
  const unread = of.flatMap(({ at, asked, one }) => {
    const within = asked.find((each) => each.quantity === quantity)?.within;
    if (!within || one.view.read.good > 0 || one.view.read.possible === 0) return [];
    return [
      {
        system: at.system.code,
        systemName: at.system.name,
        days: Math.floor((within.to - within.from) / DAY),
      },
    ];
  });
  const { label, unit, unitLabel, decimals } = labelOf(quantity);
  return {
    quantity,
    label,
    unit,
    unitLabel,
    decimals,
    read,
    fits,
    unread,
    says: lifeSentence({
      label,
      fits: fits.map(({ basis, fit }) => ({ basis, share: fit.share })),
      ...read,
      unread,
    }),
    sources: sourcesOf(of.map(({ one }) => one)),
  };
}

/** The quantities worth showing: those that were read somewhere, and those that its profile covers. */
function worthTelling(
  { quantity, read }: AnimalWaterView["quantities"][number],
  habitat: Habitat,
  species: Resident,
): boolean {
  const profile = profileFor(habitat.profiles, species.species, species.population);
  return read.good > 0 || (profile?.entries.some((entry) => entry.quantity === quantity) ?? false);
}

/**
 * The water an animal or group lived in, system by system and month by month: its range, how much of it was read, and the share inside its
 * own species' range at its stage then. Systems that the reader may not see are left out, and the view says so. Throws AppError
 * "not_found" for an animal that lived in none of them.
 */
export async function readAnimalWater(
  deps: ReadDeps,
  animal: string,
  query: AnimalWaterQuery = {},
): Promise<AnimalWaterView> {
  const now = deps.clock();
  const { index, stays } = await lookUp(deps.setUp, (found) => {
    const own = found.setUp.residents.filter((stay) => stay.animal === animal);
    if (own.length === 0)
      throw notFound("animal", animal, "GET /api/v1/systems/{system}/residents names those that live there.");
    return { index: found, stays: own };
  });
  const habitat = await deps.store.readHabitat();
  const visits = visitsOf(stays);
  const last = stays.reduce((newest, stay) => (stay.from >= newest.from ? stay : newest));
  const zone = index.byId.get(last.system)?.site.zone ?? "UTC";
  const life = lifeSoFar(stays, now);
  const within = query.year === undefined ? life : partIn(life, query.year, zone);
  const [firstYear, lastYear] = [yearAt(life.from, zone), yearAt(Math.max(life.from, life.to - 1), zone)];
  const profile = profileFor(habitat.profiles, last.species, last.population);
  const quantities = homeQuantities(profile ? [profile] : []);
  const asked = visits.flatMap((visit): VisitRequest[] => {
    const at = index.byId.get(visit.system);
    if (!at || visit.from >= within.to || (visit.to !== null && visit.to <= within.from)) return [];
    return [{ at, visit, asked: askedOfVisit(at, habitat, visit, quantities, within) }];
  });
  const take = taker(await deps.store.tallyStretches(asked.flatMap((each) => stretchesAsked(each.asked))));
  const counted: VisitTally[] = [];
  for (const each of asked) {
    const of: QuantityTally[] = [];
    for (const one of each.asked) of.push(await countedVisit(deps.store, one, take));
    counted.push({ ...each, counted: of });
  }
  const told = quantities
    .map((quantity) => lifeOf(quantity, counted))
    .filter((each) => worthTelling(each, habitat, last));
  const isTold = new Set(told.map(({ quantity }) => quantity));
  return {
    now,
    zone,
    animal,
    name: last.name,
    species: last.species,
    speciesName: last.speciesName,
    population: last.population,
    sex: last.sex,
    year: query.year ?? null,
    years: Array.from({ length: lastYear - firstYear + 1 }, (_, i) => firstYear + i),
    from: within.from,
    to: within.to,
    isWhole: deps.seesAll,
    livesIn: index.systems.flatMap((at) =>
      livingAt(stays, at.system.id, now).map(({ stage, count }) => ({
        system: at.system.code,
        name: at.system.name,
        stage,
        count,
      })),
    ),
    quantities: told,
    visits: counted.map((each) => {
      const view = visitView(each);
      return { ...view, quantities: view.quantities.filter(({ quantity }) => isTold.has(quantity)) };
    }),
  };
}
