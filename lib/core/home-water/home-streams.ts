import type { Profile } from "../habitat/index.ts";
import { streamFor } from "../light/index.ts";
import type { Stream } from "../set-up/set-up.ts";
import type { SystemSetUp } from "../set-up/system-set-up.ts";
import { quantity } from "../units/index.ts";

/** The quantities home water is shown in, in this order; others follow where a resident's profile covers them. */
const FIRST = [
  "temperature",
  "salinity",
  "specific_conductance",
  "ph",
  "dissolved_oxygen",
  "oxygen_saturation",
];
/** Light is judged by the day, not by the quarter hour. */
const LIGHT = ["illuminance", "par", "day_length"];

/** The quantities home water is shown in, in their order: the usual ones, and those that these profiles name. */
export function homeQuantities(profiles: readonly Profile[]): string[] {
  const named = profiles
    .flatMap((profile) => profile.entries.map((entry) => entry.quantity))
    .filter((id) => quantity(id)?.kind === "number" && !FIRST.includes(id) && !LIGHT.includes(id));
  return [...FIRST, ...[...new Set(named)].sort()];
}

/** The streams a system's home water is shown in: the usual quantities, and those that its residents' profiles name. */
export function homeStreams(at: SystemSetUp, profiles: readonly Profile[]): Stream[] {
  const species = new Set(at.residents.map((stay) => stay.species));
  const theirs = profiles.filter((profile) => species.has(profile.species));
  return homeQuantities(theirs).flatMap((id) => streamFor(at.streams, id) ?? []);
}
