/** Invented animals and profiles for tests of habitat; no number here is of a real species. */
import type { Profile, ProfileEntry, Stage, Stay } from "#core/habitat/index.ts";

export const T = Date.UTC(2026, 10, 1);

export const entry = (change: Partial<ProfileEntry>): ProfileEntry => ({
  quantity: "temperature",
  stage: null,
  month: null,
  low: null,
  typical: null,
  high: null,
  means: "author's stated range",
  kind: "advice",
  depth: null,
  place: null,
  years: null,
  source: "invented for a test",
  mark: "common practice, no source",
  method: null,
  confidence: "low",
  note: null,
  ...change,
});

export const profile = (
  species: string,
  entries: readonly Partial<ProfileEntry>[],
  change: Partial<Profile> = {},
): Profile => ({
  id: `profile-${species}`,
  species,
  population: null,
  version: 1,
  latitude: null,
  longitude: null,
  entries: entries.map(entry),
  recordedAt: T,
  recordedBy: "Ada",
  reason: "first",
  ...change,
});

export const stay = (species: string, stage: Stage, change: Partial<Stay> = {}): Stay => ({
  id: `stay-${species}-${stage}`,
  animal: `animal-${species}-${stage}`,
  system: "system-kelp",
  species,
  population: null,
  name: null,
  sex: null,
  stage,
  count: 1,
  from: 0,
  to: null,
  ended: null,
  ...change,
});
