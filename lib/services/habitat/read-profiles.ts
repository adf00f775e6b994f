import type { ProfileFile, ProfilesView, ProfileView } from "#contract/habitat.ts";
import { livingAt, type Profile, profileFor } from "#core/habitat/index.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Habitat } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { AppError, notFound } from "../errors.ts";
import { profileToCsv } from "./profile-files.ts";
import type { LibraryDeps } from "./profiles.ts";

const headOf = (habitat: Habitat, profile: Profile) => ({
  id: profile.id,
  population: profile.population,
  version: profile.version,
  inForce: profileFor(habitat.profiles, profile.species, profile.population)?.id === profile.id,
  latitude: profile.latitude,
  longitude: profile.longitude,
  recorded: profile.recordedAt,
  recordedBy: profile.recordedBy,
  reason: profile.reason,
  entries: profile.entries.length,
});
const versionsOf = (habitat: Habitat, species: string): Profile[] =>
  habitat.profiles.filter((each) => each.species === species).toReversed();

/** Every species with its profiles, where it lives, and what the library holds besides. */
export async function readProfiles(deps: ReadDeps & LibraryDeps): Promise<ProfilesView> {
  const now = deps.clock();
  const habitat = await deps.store.readHabitat();
  const { systems } = await deps.setUp.read();
  const species = habitat.species.map(({ id, name, scientific, group }) => ({
    id,
    name,
    scientific,
    group,
    profiles: versionsOf(habitat, id).map((profile) => headOf(habitat, profile)),
    livesIn: systems.flatMap((at) => {
      const here = livingAt(at.residents, at.system.id, now).filter((stay) => stay.species === id);
      const count = here.reduce((sum, stay) => sum + stay.count, 0);
      return count > 0 ? [{ system: at.system.code, name: at.system.name, count }] : [];
    }),
  }));
  const library = (await deps.library()).map((file) => ({
    id: file.species.id,
    name: file.species.name,
    scientific: file.species.scientific,
    group: file.species.group,
    entries: file.profiles.reduce((sum, each) => sum + each.entries.length, 0),
    isKnown: habitat.profiles.some((each) => each.species === file.species.id),
  }));
  return { now, species, library };
}

/** One species with every version of its profiles, newest first. Throws AppError "not_found". */
export async function readProfile(deps: ReadDeps, id: string): Promise<ProfileView> {
  const habitat = await deps.store.readHabitat();
  const species = habitat.species.find((each) => each.id === id);
  if (!species) throw notFound("species", id, "GET /api/v1/profiles lists them.");
  return {
    now: deps.clock(),
    species: {
      ...species,
      development: species.development.map((each) => ({ ...each })),
      facts: species.facts.map((each) => ({ ...each })),
    },
    profiles: versionsOf(habitat, id).map((profile) => ({
      ...headOf(habitat, profile),
      all: profile.entries.map((entry) => {
        const { label, unitLabel } = labelOf(entry.quantity);
        return { ...entry, label, unitLabel };
      }),
    })),
  };
}

/** A species' profiles in force as a file. Throws AppError "not_found", "conflict" where a CSV would have to hold several populations. */
export async function exportProfile(
  deps: ReadDeps,
  id: string,
  asked: { readonly format: "json" | "csv"; readonly population?: string | undefined },
): Promise<{ readonly name: string; readonly type: string; readonly text: string }> {
  const habitat = await deps.store.readHabitat();
  const species = habitat.species.find((each) => each.id === id);
  if (!species) throw notFound("species", id, "GET /api/v1/profiles lists them.");
  const inForce = versionsOf(habitat, id).filter(
    (each) =>
      profileFor(habitat.profiles, id, each.population)?.id === each.id &&
      (asked.population === undefined || each.population === asked.population),
  );
  inForce.sort((a, b) => (a.population ?? "").localeCompare(b.population ?? "", "en"));
  if (asked.format === "csv") {
    const [only] = inForce;
    if (!only) throw notFound("profile", asked.population ?? id, "It has no profiles yet.");
    if (inForce.length > 1)
      throw new AppError(
        "conflict",
        `There are ${inForce.length} profiles of ${species.name}: name one population, or export JSON.`,
      );
    return { name: `${id}.csv`, type: "text/csv; charset=utf-8", text: profileToCsv([...only.entries]) };
  }
  const file: ProfileFile = {
    format: "homewater profile 1",
    species: { ...species, development: [...species.development], facts: [...species.facts] },
    profiles: inForce.map(({ population, latitude, longitude, entries }) => ({
      population,
      latitude,
      longitude,
      entries: [...entries],
    })),
  };
  return { name: `${id}.json`, type: "application/json", text: `${JSON.stringify(file, null, 2)}\n` };
}
