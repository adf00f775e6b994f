/** Animals and groups move in, between systems and out, and grow from one stage to the next; all dated, in the logbook and correctable. */

import {
  correctStayRequest,
  type HabitatAnswer,
  moveInRequest,
  moveRequest,
  stageRequest,
} from "#contract/habitat.ts";
import { ofCount, type StayEnd } from "#core/habitat/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Resident } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { demandAt, demandSomewhere } from "../permission.ts";
import { type IndexedSetUp, lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { demandHome } from "./demand-home.ts";
import { bandsThatFollow, logOf, type Moving, momentOf, nameOfStay, writeChange } from "./habitat-write.ts";

interface StayInSystem {
  readonly index: IndexedSetUp;
  readonly stay: Resident;
  readonly at: SystemSetUp;
}
async function findStay(deps: WriteDeps, actor: Actor, id: string): Promise<StayInSystem> {
  const found = await lookUp(deps.setUp, (index): StayInSystem => {
    const stay = index.setUp.residents.find((row) => row.id === id);
    const at = stay && index.byId.get(stay.system);
    if (!stay || !at) throw notFound("resident", id, "GET /api/v1/systems/{system}/residents lists them.");
    return { index, stay, at };
  });
  demandAt(actor, "change-habitat", found.at);
  return found;
}

/** Rows after some were added or replaced. */
function withRows(rows: readonly Resident[], changed: readonly Resident[]): Resident[] {
  const ids = new Set(changed.map((row) => row.id));
  return [...rows.filter((row) => !ids.has(row.id)), ...changed];
}
const moving = (
  at: SystemSetUp,
  from: Instant,
  index: IndexedSetUp,
  changed: readonly Resident[],
): Moving => ({
  at,
  from,
  stays: withRows(index.setUp.residents, changed).filter((row) => row.system === at.system.id),
});

/** Closes a stay at an instant, wholly or for some of its animals; the rest goes on in a stay of its own. */
function closing(
  deps: WriteDeps,
  now: Instant,
  { stay }: StayInSystem,
  at: Instant,
  count: number | undefined,
  ended: StayEnd,
): { readonly rows: Resident[]; readonly count: number } {
  const issues = [];
  if (at < stay.from)
    issues.push({
      field: "at",
      value: new Date(at).toISOString(),
      says: "is before the animal arrived",
      remedy: "correct its arrival first",
    });
  if (stay.to !== null)
    issues.push({
      field: "stay",
      value: stay.id,
      says: "has already ended",
      remedy: "correct that stay instead",
    });
  if (count !== undefined && count > stay.count)
    issues.push({
      field: "count",
      value: String(count),
      says: `is more than the ${stay.count} living there`,
      remedy: "check the count",
    });
  if (issues.length > 0) throw invalid(issues);
  const leaving = count ?? stay.count;
  const rest: Resident[] =
    leaving === stay.count ? [] : [{ ...ofCount(stay, stay.count - leaving), id: deps.newId(now), from: at }];
  return { rows: [{ ...stay, to: at, ended: rest.length > 0 ? "counted" : ended }, ...rest], count: leaving };
}

/** What is stored of a body mass: since when it is known and where it is from; nothing of that where there is none. */
const massOf = (
  mass: number | null | undefined,
  source: string | null | undefined,
  at: Instant,
): Pick<Resident, "mass" | "massAt" | "massSource"> =>
  mass == null
    ? { mass: null, massAt: null, massSource: null }
    : { mass, massAt: at, massSource: source ?? null };

/** Moves animals into a system from outside. Throws AppError "forbidden", "not_found", "invalid". */
export async function moveIn(
  deps: WriteDeps,
  actor: Actor,
  system: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-habitat");
  const request = parse(moveInRequest, body);
  const { index, at } = await lookUp(deps.setUp, (found) => ({ index: found, at: systemOf(found, system) }));
  demandAt(actor, "change-habitat", at);
  demandHome(at, "system");
  const now = deps.clock();
  const habitat = await deps.store.readHabitat();
  const species = habitat.species.find((each) => each.id === request.species);
  if (!species)
    throw notFound("species", request.species, "Save its profile first, or add it from the library.");
  const from = momentOf("at", request.at, now);
  const id = deps.newId(now);
  const row: Resident = {
    id,
    animal: id,
    system: at.system.id,
    species: species.id,
    speciesName: species.name,
    population: request.population ?? null,
    name: request.name ?? null,
    sex: request.sex ?? null,
    stage: request.stage,
    count: request.count,
    ...massOf(request.massKg, request.massSource, from),
    from,
    to: null,
    ended: null,
  };
  const text = request.note ?? `${nameOfStay(row)} moved in`;
  const { bands, bandBasis } = bandsThatFollow(deps, actor, habitat, [moving(at, from, index, [row])], {
    now,
    reason: text,
    confirm: request.confirm === true,
  });
  const log = logOf(deps, actor, now, {
    kind: "animal-move",
    systems: [at.system.id],
    at: from,
    text,
    animals: [nameOfStay(row)],
    amount: row.count,
  });
  return writeChange(
    deps,
    actor,
    now,
    "move-in",
    `resident:${id}`,
    id,
    { setUp: { residents: [row], bands }, bandBasis, log: [log] },
    [{ system: at.system.id, from: Math.min(from, now) }],
  );
}

/** Moves animals to another system, or out: left or died. Throws AppError "forbidden", "not_found", "invalid". */
export async function moveAnimal(
  deps: WriteDeps,
  actor: Actor,
  stay: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-habitat");
  const request = parse(moveRequest, body);
  const found = await findStay(deps, actor, stay);
  const to = request.to === null ? null : systemOf(found.index, request.to);
  if ((request.how === "moved") !== (to !== null))
    throw invalid([
      {
        field: "to",
        value: request.to,
        says: to ? `is given, but how is "${request.how}"` : "does not say which system to move to",
        remedy: "give a system with moved, and none with left or died",
      },
    ]);
  if (to) demandAt(actor, "change-habitat", to);
  if (to) demandHome(to, "to");
  if (to && to.system.id === found.at.system.id)
    throw invalid([
      { field: "to", value: request.to, says: "is where it already lives", remedy: "give another system" },
    ]);
  const now = deps.clock();
  const at = momentOf("at", request.at, now);
  const { rows, count } = closing(deps, now, found, at, request.count, request.how);
  const arrived: Resident[] = to
    ? [
        {
          ...ofCount(found.stay, count),
          ...{ id: deps.newId(now), system: to.system.id, from: at, to: null, ended: null },
        },
      ]
    : [];
  const habitat = await deps.store.readHabitat();
  const changed = [...rows, ...arrived];
  const who = nameOfStay({ ...found.stay, count });
  const text =
    request.note ??
    (to ? `${who} moved to ${to.system.name}` : request.how === "died" ? `${who} died` : `${who} left`);
  const systems = [found.at, ...(to ? [to] : [])];
  const { bands, bandBasis } = bandsThatFollow(
    deps,
    actor,
    habitat,
    systems.map((each) => moving(each, at, found.index, changed)),
    { now, reason: text, confirm: request.confirm === true },
  );
  const ids = systems.map((each) => each.system.id);
  const log = logOf(deps, actor, now, {
    kind: request.how === "died" ? "death" : "animal-move",
    systems: ids,
    at,
    text,
    animals: [who],
    amount: count,
  });
  return writeChange(
    deps,
    actor,
    now,
    "move-animal",
    `resident:${stay}`,
    arrived[0]?.id ?? stay,
    { setUp: { residents: changed, bands }, bandBasis, log: [log] },
    ids.map((system) => ({ system, from: Math.min(at, now) })),
  );
}

/** Animals have reached another life stage. Throws AppError "forbidden", "not_found", "invalid". */
export async function changeStage(
  deps: WriteDeps,
  actor: Actor,
  stay: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-habitat");
  const request = parse(stageRequest, body);
  const found = await findStay(deps, actor, stay);
  if (request.stage === found.stay.stage)
    throw invalid([
      { field: "stage", value: request.stage, says: "is already its stage", remedy: "give the new stage" },
    ]);
  const now = deps.clock();
  const at = momentOf("at", request.at, now);
  const { rows, count } = closing(deps, now, found, at, request.count, "stage");
  const grown: Resident = {
    ...ofCount(found.stay, count),
    id: deps.newId(now),
    stage: request.stage,
    from: at,
    to: null,
    ended: null,
  };
  const changed = [...rows, grown];
  const habitat = await deps.store.readHabitat();
  const text = request.note ?? `${nameOfStay({ ...found.stay, count })} now ${request.stage}`;
  const { bands, bandBasis } = bandsThatFollow(
    deps,
    actor,
    habitat,
    [moving(found.at, at, found.index, changed)],
    {
      now,
      reason: text,
      confirm: request.confirm === true,
    },
  );
  const system = found.at.system.id;
  const log = logOf(deps, actor, now, {
    kind: "animal-note",
    systems: [system],
    at,
    text,
    animals: [nameOfStay(grown)],
    amount: count,
  });
  return writeChange(
    deps,
    actor,
    now,
    "change-stage",
    `resident:${stay}`,
    grown.id,
    { setUp: { residents: changed, bands }, bandBasis, log: [log] },
    [{ system, from: Math.min(at, now) }],
  );
}

/** Corrects what was entered wrongly about one stay; bands and findings follow from the earlier of both dates. */
export async function correctStay(
  deps: WriteDeps,
  actor: Actor,
  stay: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-habitat");
  const { reason, massKg, massSource, ...change } = parse(correctStayRequest, body);
  const found = await findStay(deps, actor, stay);
  const now = deps.clock();
  const given = Object.fromEntries(Object.entries(change).filter(([, value]) => value !== undefined));
  const mass = massKg === undefined ? {} : massOf(massKg, massSource, now);
  const corrected: Resident = { ...found.stay, ...given, ...mass };
  if (corrected.to === null && found.stay.ended !== null)
    throw new AppError(
      "conflict",
      "A later stay follows this one: correct that one first, or give the day this one ended.",
    );
  const from = momentOf("from", corrected.from, now);
  if (corrected.to !== null && corrected.to < from)
    throw invalid([
      {
        field: "to",
        value: new Date(corrected.to).toISOString(),
        says: "is before from",
        remedy: "swap them",
      },
    ]);
  const instants = [from, found.stay.from, corrected.to, found.stay.to].filter(
    (each): each is Instant => each !== null,
  );
  const since = Math.min(
    ...(from === found.stay.from &&
    corrected.stage === found.stay.stage &&
    corrected.population === found.stay.population
      ? instants.slice(2).concat(now)
      : instants),
  );
  const habitat = await deps.store.readHabitat();
  const text = `Corrected: ${nameOfStay(found.stay)}. ${reason}`;
  const { bands, bandBasis } = bandsThatFollow(
    deps,
    actor,
    habitat,
    [moving(found.at, since, found.index, [corrected])],
    {
      now,
      reason,
      confirm: false,
    },
  );
  const system = found.at.system.id;
  const log = logOf(deps, actor, now, {
    kind: "animal-note",
    systems: [system],
    at: since,
    text,
    animals: [nameOfStay(corrected)],
  });
  return writeChange(
    deps,
    actor,
    now,
    "correct-stay",
    `resident:${stay}`,
    stay,
    { setUp: { residents: [corrected], bands }, bandBasis, log: [log] },
    [{ system, from: Math.min(since, now) }],
  );
}
