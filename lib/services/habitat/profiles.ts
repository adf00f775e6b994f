/** Habitat profiles: new versions, from a form, a file or the library the program brings. */

import {
  addFromLibraryRequest,
  type HabitatAnswer,
  importProfileRequest,
  type ProfileFile,
  saveProfileRequest,
} from "#contract/habitat.ts";
import { entryFaults, type Profile, type Species } from "#core/habitat/index.ts";
import type { Instant } from "#core/time/instant.ts";
import { quantity } from "#core/units/index.ts";
import type { Habitat } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { type FieldIssue, invalid, notFound, shorten } from "../errors.ts";
import { parse } from "../parse.ts";
import { demand } from "../permission.ts";
import { bandsThatFollow, writeChange } from "./habitat-write.ts";
import { profileFromCsv, profileFromJson } from "./profile-files.ts";

/** Profiles the program brings, as files of its own. */
export interface LibraryDeps {
  readonly library: () => Promise<readonly ProfileFile[]>;
}
type Form = ProfileFile["profiles"][number];

const isNumber = (id: string): boolean => quantity(id)?.kind === "number";

function checked(form: Form, field: string): void {
  const issues: FieldIssue[] = entryFaults(form.entries, isNumber).map((fault) => ({
    field: `${field}entries.${fault.entry}.${fault.field}`,
    value: shorten(form.entries[fault.entry]?.[fault.field] ?? null),
    says: fault.says,
    remedy: fault.remedy,
  }));
  if (issues.length > 0) throw invalid(issues);
}

function nextVersion(
  deps: WriteDeps,
  actor: Actor,
  habitat: Habitat,
  species: string,
  form: Form,
  now: Instant,
  reason: string,
): Profile {
  const versions = habitat.profiles.filter(
    (each) => each.species === species && each.population === form.population,
  );
  return {
    id: deps.newId(now),
    species,
    population: form.population,
    version: Math.max(0, ...versions.map((each) => each.version)) + 1,
    latitude: form.latitude,
    longitude: form.longitude,
    entries: form.entries,
    recordedAt: now,
    recordedBy: actor.name,
    reason,
  };
}

/** Writes species and profiles; the bands of every system their animals live in follow from now on. */
async function write(
  deps: WriteDeps,
  actor: Actor,
  habitat: Habitat,
  added: { readonly species: readonly Species[]; readonly profiles: readonly Profile[] },
  verb: string,
  reason: string,
  now: Instant,
): Promise<HabitatAnswer> {
  const species = [
    ...habitat.species.filter((old) => added.species.every((each) => each.id !== old.id)),
    ...added.species,
  ];
  const next: Habitat = { ...habitat, species, profiles: [...habitat.profiles, ...added.profiles] };
  const changed = new Set(added.profiles.map((each) => each.species));
  const { systems } = await deps.setUp.read();
  const touched = systems.filter((at) =>
    at.residents.some((stay) => changed.has(stay.species) && (stay.to === null || stay.to > now)),
  );
  const { bands, bandBasis } = bandsThatFollow(
    deps,
    actor,
    next,
    touched.map((at) => ({ at, from: now, stays: at.residents })),
    { now, reason, confirm: false },
  );
  const judged = new Set(bands.map((band) => band.system));
  const subject = added.profiles[0]?.species ?? added.species[0]?.id ?? "";
  return writeChange(
    deps,
    actor,
    now,
    verb,
    `profile:${subject}`,
    added.profiles[0]?.id ?? subject,
    { ...added, setUp: { bands }, bandBasis },
    [...judged].map((system) => ({ system, from: now })),
  );
}

/**
 * Saves a new version of a species' profile; each number needs its source. A new species comes with its name. The versions before stay
 * readable. Throws AppError "forbidden", "not_found", "invalid" with each field named.
 */
export async function saveProfile(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demand(actor, "change-habitat");
  const { species, reason, ...form } = parse(saveProfileRequest, body);
  checked(form, "");
  const habitat = await deps.store.readHabitat();
  const known = habitat.species.find((each) => each.id === id);
  if (!known && !species) throw notFound("species", id, "Send its name with the profile.");
  if (species && species.id !== id)
    throw invalid([
      {
        field: "species.id",
        value: species.id,
        says: "is not the species in the URL",
        remedy: `use ${id}`,
      },
    ]);
  const now = deps.clock();
  const profile = nextVersion(deps, actor, habitat, id, form, now, reason);
  return write(
    deps,
    actor,
    habitat,
    { species: species ? [species] : [], profiles: [profile] },
    "save-profile",
    reason,
    now,
  );
}

/** Takes a profile from a CSV or JSON file of our published form; nothing is stored unless every row is sound. */
export async function importProfile(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demand(actor, "change-habitat");
  const request = parse(importProfileRequest, body);
  const habitat = await deps.store.readHabitat();
  const known = habitat.species.find((each) => each.id === id);
  const read =
    request.format === "json"
      ? profileFromJson(request.text)
      : profileFromCsv(request.text, request.population ?? null);
  if (!read.ok) throw invalid(read.issues.map((issue) => ({ value: null, ...issue })));
  const species = read.species ?? known;
  if (!species)
    throw notFound("species", id, "Import it as JSON, which names the species, or save its profile first.");
  if (species.id !== id)
    throw invalid([
      {
        field: "species.id",
        value: species.id,
        says: "is not the species in the URL",
        remedy: `use ${species.id}`,
      },
    ]);
  for (const [i, form] of read.profiles.entries()) checked(form, `profiles.${i}.`);
  const now = deps.clock();
  const profiles = read.profiles.map((form) =>
    nextVersion(deps, actor, habitat, id, form, now, request.reason),
  );
  return write(
    deps,
    actor,
    habitat,
    { species: read.species ? [read.species] : [], profiles },
    "import-profile",
    request.reason,
    now,
  );
}

/** Takes species with their profiles from the library the program brings. Throws AppError "forbidden", "not_found", "invalid". */
export async function addFromLibrary(
  deps: WriteDeps & LibraryDeps,
  actor: Actor,
  body: unknown,
): Promise<HabitatAnswer> {
  demand(actor, "change-habitat");
  const request = parse(addFromLibraryRequest, body);
  const files = await deps.library();
  const chosen = request.species.map((id) => {
    const file = files.find((each) => each.species.id === id);
    if (!file) throw notFound("species", id, "GET /api/v1/profiles lists the library.");
    return file;
  });
  const habitat = await deps.store.readHabitat();
  const now = deps.clock();
  const reason = request.reason ?? "added from the library";
  const profiles = chosen.flatMap((file) =>
    file.profiles.map((form) => nextVersion(deps, actor, habitat, file.species.id, form, now, reason)),
  );
  return write(
    deps,
    actor,
    habitat,
    { species: chosen.map((file) => file.species), profiles },
    "add-from-library",
    reason,
    now,
  );
}
