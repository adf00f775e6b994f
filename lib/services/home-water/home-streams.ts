import { quantity } from "../../core/units/index.ts";
import type { Habitat, Stream } from "../../store/port.ts";
import type { SystemSetUp } from "../set-up.ts";

/** What home water is told in, in this order; others follow where a resident's profile speaks of them. */
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

/** The stream that stands for a quantity of a system's water: the display's probe, else what is computed there, else the first elsewhere. */
export function homeStream(at: SystemSetUp, id: string): Stream | undefined {
  const of = at.streams.filter(
    (stream) => stream.quantity === id && (stream.origin === "probe" || stream.origin === "derived"),
  );
  const rank = (stream: Stream) =>
    (stream.pointCode === "display" ? 0 : 2) + (stream.origin === "probe" ? 0 : 1);
  return [...of].sort((a, b) => rank(a) - rank(b) || a.id - b.id)[0];
}

export function lightStream(at: SystemSetUp): Stream | undefined {
  return homeStream(at, "illuminance") ?? homeStream(at, "par");
}

/** Streams that home water of a system is told in: the usual quantities, and those that its residents' profiles name. */
export function homeStreams(at: SystemSetUp, habitat: Habitat): Stream[] {
  const species = new Set(at.residents.map((stay) => stay.species));
  const named = habitat.profiles
    .filter((profile) => species.has(profile.species))
    .flatMap((profile) => profile.entries.map((entry) => entry.quantity))
    .filter((id) => quantity(id)?.kind === "number" && !FIRST.includes(id) && !LIGHT.includes(id));
  return [...FIRST, ...[...new Set(named)].sort()].flatMap((id) => homeStream(at, id) ?? []);
}
