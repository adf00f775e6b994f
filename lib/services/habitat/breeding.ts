/** Breeding watches, what was seen in them, and births. */
import type * as z from "zod";
import { birthRequest, type HabitatAnswer, openWatchRequest, watchEventRequest } from "#contract/habitat.ts";
import type { BreedingEvent, BreedingWatch } from "#core/habitat/index.ts";
import type { Resident } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, type FieldIssue, invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { demandHome } from "./demand-home.ts";
import { bandsThatFollow, changeable, logOf, momentOf, nameOfStay, writeChange } from "./habitat-write.ts";

/** The newest stay of an animal in a system. */
function animalAt(at: SystemSetUp, animal: string): Resident {
  const stays = at.residents.filter((row) => row.animal === animal).sort((a, b) => b.from - a.from);
  const [newest] = stays;
  if (!newest) throw notFound("animal", animal, `It has never lived in ${at.system.code}.`);
  return newest;
}

/**
 * Opens a breeding watch for an animal or group. Shortest and longest come from the species where they are left out; without a source for
 * them it is refused. Throws AppError "forbidden", "not_found", "invalid".
 */
export async function openWatch(
  deps: WriteDeps,
  actor: Actor,
  system: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-habitat");
  const request = parse(openWatchRequest, body);
  const at = await lookUp(deps.setUp, (index) => systemOf(index, system));
  demandAt(actor, "change-habitat", at);
  const stay = animalAt(at, request.animal);
  const now = deps.clock();
  const { species } = await deps.store.readHabitat();
  const known = species.find((each) => each.id === stay.species);
  const takes = known?.development.find((each) => each.kind === request.kind);
  const shortestDays = request.shortestDays ?? takes?.shortestDays;
  const longestDays = request.longestDays ?? takes?.longestDays;
  const source =
    request.source ??
    (request.shortestDays === undefined && request.longestDays === undefined ? takes?.source : undefined);
  const issues: FieldIssue[] = [];
  if (shortestDays === undefined || longestDays === undefined || source === undefined)
    issues.push({
      field: "shortestDays",
      value: null,
      says: `no ${request.kind} of ${stay.speciesName} is known with a source`,
      remedy: "give shortest and longest in days, with their source",
    });
  else if (shortestDays > longestDays)
    issues.push({
      field: "shortestDays",
      value: String(shortestDays),
      says: "is longer than the longest",
      remedy: "swap them",
    });
  if (request.first !== null && request.last !== null && request.first > request.last)
    issues.push({
      field: "first",
      value: new Date(request.first).toISOString(),
      says: "is after the last day",
      remedy: "swap them",
    });
  if (issues.length > 0 || shortestDays === undefined || longestDays === undefined || source === undefined)
    throw invalid(issues);
  const watch: BreedingWatch = {
    id: deps.newId(now),
    system: at.system.id,
    animal: stay.animal,
    species: stay.species,
    kind: request.kind,
    first: request.first,
    last: request.last,
    // What is not known to be impossible is possible: the late edge stays open.
    mayDelay:
      request.mayDelay ??
      (request.kind === "gestation" ? (known?.mayDelay ?? true) : (known?.mayDelay ?? false)),
    shortestDays,
    longestDays,
    source,
    narrowed: null,
    openedAt: now,
    openedBy: actor.name,
    outcome: null,
    endedAt: null,
  };
  const log = logOf(deps, actor, now, {
    kind: "breeding",
    systems: [at.system.id],
    at: now,
    text: `Breeding watch opened: ${nameOfStay(stay)}`,
    animals: [nameOfStay(stay)],
  });
  return writeChange(
    deps,
    actor,
    now,
    "open-watch",
    `breeding-watch:${watch.id}`,
    watch.id,
    { watches: [watch], log: [log] },
    [],
  );
}

type WatchEvent = z.output<typeof watchEventRequest>;
/** A pup pool is kept by its id, which outlives a change of its short name. */
async function named(deps: WriteDeps, request: WatchEvent): Promise<WatchEvent & { readonly name?: string }> {
  if (request.kind !== "pup pool") return request;
  const { system } = await lookUp(deps.setUp, (index) => systemOf(index, request.system));
  return { ...request, system: system.id, name: system.name };
}

/** Adds what was seen to a watch: an ultrasound, eggs, the pool kept ready for the young, a window narrowed on a person's judgement, or how it ended. */
export async function noteBreeding(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-habitat");
  const request = parse(watchEventRequest, body);
  const { watches } = await deps.store.readHabitat();
  const { row: watch, at } = await changeable(deps, actor, "breeding watch", watches, id);
  if (watch.endedAt !== null) throw new AppError("conflict", "This watch has ended: open a new one.");
  const now = deps.clock();
  const when = momentOf("at", request.at, now);
  const { kind, at: _at, ...data } = await named(deps, request);
  if (request.kind === "narrowed" && request.earliest >= request.latest)
    throw invalid([
      {
        field: "earliest",
        value: new Date(request.earliest).toISOString(),
        says: "must lie before latest",
        remedy: "swap them",
      },
    ]);
  const event: BreedingEvent = {
    id: deps.newId(now),
    watch: id,
    system: watch.system,
    animal: watch.animal,
    kind,
    at: when,
    data,
    by: actor.name,
    recordedAt: now,
    supersedes: null,
  };
  const changed: BreedingWatch =
    request.kind === "narrowed"
      ? {
          ...watch,
          narrowed: {
            earliest: request.earliest,
            latest: request.latest,
            by: actor.name,
            at: now,
            reason: request.reason,
          },
        }
      : request.kind === "outcome"
        ? { ...watch, outcome: request.outcome, endedAt: when }
        : watch;
  const stay = animalAt(at, watch.animal);
  const said =
    request.kind === "outcome"
      ? request.outcome
      : request.kind === "pup pool"
        ? `pup pool is ${String(event.data.name)}`
        : request.kind;
  const log = logOf(deps, actor, now, {
    kind: "breeding",
    systems: [watch.system],
    at: when,
    text: `${nameOfStay(stay)}: ${said}`,
    animals: [nameOfStay(stay)],
  });
  return writeChange(
    deps,
    actor,
    now,
    "note-breeding",
    `breeding-watch:${id}`,
    event.id,
    { watches: [changed], breedingEvents: [event], log: [log] },
    [],
  );
}

/**
 * Records a birth or hatching: this record makes the young residents, the watch that waited for them ends, and the bands follow.
 * Throws AppError "forbidden", "not_found", "invalid".
 */
export async function recordBirth(
  deps: WriteDeps,
  actor: Actor,
  system: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-habitat");
  const request = parse(birthRequest, body);
  const { index, at } = await lookUp(deps.setUp, (found) => ({ index: found, at: systemOf(found, system) }));
  demandAt(actor, "change-habitat", at);
  demandHome(at, "system");
  const now = deps.clock();
  const when = momentOf("at", request.at, now);
  const habitat = await deps.store.readHabitat();
  const species = habitat.species.find((each) => each.id === request.species);
  if (!species)
    throw notFound("species", request.species, "Save its profile first, or add it from the library.");
  if (request.live + request.dead === 0)
    throw invalid([
      {
        field: "live",
        value: "0",
        says: "records a birth without young",
        remedy: "give how many were found, live or dead",
      },
    ]);
  if (request.young.length > request.live + request.dead)
    throw invalid([
      {
        field: "young",
        value: String(request.young.length),
        says: "lists more young than were found",
        remedy: "check the count",
      },
    ]);
  const watch = request.watch ? habitat.watches.find((each) => each.id === request.watch) : undefined;
  if (request.watch && watch?.system !== at.system.id)
    throw notFound("breeding watch", request.watch, `It does not belong to ${at.system.code}.`);
  const mother = request.mother ? animalAt(at, request.mother) : null;
  const base = {
    system: at.system.id,
    species: species.id,
    speciesName: species.name,
    population: mother?.population ?? null,
    stage: request.stage,
    from: when,
    to: null,
    ended: null,
  };
  const named = request.young
    .slice(0, request.live)
    .filter((each) => each.name !== null || request.live === 1);
  const single = named.map((each): Resident => {
    const id = deps.newId(now);
    return { ...base, id, animal: id, name: each.name, sex: each.sex, count: 1 };
  });
  const rest = request.live - single.length;
  const id = deps.newId(now);
  const group: Resident[] = rest > 0 ? [{ ...base, id, animal: id, name: null, sex: null, count: rest }] : [];
  const young = [...single, ...group];
  const stays = [...index.setUp.residents.filter((row) => row.system === at.system.id), ...young];
  const { at: _at, confirm, ...data } = request;
  const event: BreedingEvent = {
    id: deps.newId(now),
    watch: watch?.id ?? null,
    system: at.system.id,
    animal: mother?.animal ?? null,
    kind: "birth",
    at: when,
    data,
    by: actor.name,
    recordedAt: now,
    supersedes: null,
  };
  const text =
    request.note ??
    `${request.live} ${species.name} found alive${request.dead > 0 ? `, ${request.dead} dead` : ""}${mother ? `, mother ${nameOfStay(mother)}` : ""}`;
  const { bands, bandBasis } = bandsThatFollow(deps, actor, habitat, [{ at, from: when, stays }], {
    now,
    reason: text,
    confirm: confirm === true,
  });
  const log = logOf(deps, actor, now, {
    kind: "birth",
    systems: [at.system.id],
    at: when,
    text,
    animals: young.map(nameOfStay),
    amount: request.live,
  });
  const ended: BreedingWatch[] =
    watch && watch.endedAt === null ? [{ ...watch, outcome: "born", endedAt: when }] : [];
  return writeChange(
    deps,
    actor,
    now,
    "record-birth",
    `birth:${event.id}`,
    event.id,
    { setUp: { residents: young, bands }, bandBasis, breedingEvents: [event], watches: ended, log: [log] },
    [{ system: at.system.id, from: Math.min(when, now) }],
  );
}
