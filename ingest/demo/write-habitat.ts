/** What the demo's curator knows of its animals' homes: the library's profiles of who lives there, the compromise that was signed, who is awaited. */
import { openLibrary } from "#config/open.ts";
import type { BreedingWatch, Compromise, Profile, Species, Stay } from "#core/habitat/index.ts";
import type { Instant } from "#core/time/index.ts";
import type { Store } from "#store/port.ts";

const CURATOR = "curator";

/** Signed for garibaldi, which need at least 15 Cel, and wolf-eels, at most 12: common practice, no source. */
const compromiseAt = (now: Instant): Compromise => ({
  id: "compromise-kelp-gallery",
  system: "system-kelp-gallery",
  quantity: "temperature",
  months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
  lowSide: { species: "garibaldi", stage: "adult" },
  highSide: { species: "wolf-eel", stage: "adult" },
  low: 14.5,
  high: 16,
  actionLow: 12.5,
  actionHigh: 18,
  reason: "until the wolf-eels have a colder home; the gap of 3 Cel goes on showing",
  signedBy: CURATOR,
  signedAt: now,
  validFrom: 0,
  validTo: null,
});

/** Two of the rays that shared water with the male: Tuppence until the morning of her pup, Saffron still. */
function watchesOf(stays: readonly Stay[], species: readonly Species[], now: Instant): BreedingWatch[] {
  const of = (name: string) => stays.find((stay) => stay.name === name && stay.species === "cownose-ray");
  const [male, pup] = [of("Wherry"), of("Farthing")];
  const takes = species.find(({ id }) => id === "cownose-ray")?.development[0];
  if (!male || !pup || !takes) return [];
  return ["Tuppence", "Saffron"].flatMap((name) => {
    const mother = of(name);
    if (!mother) return [];
    const isBorn = name === "Tuppence";
    return [
      {
        id: `watch-${name.toLowerCase()}`,
        system: mother.system,
        animal: mother.animal,
        species: mother.species,
        kind: takes.kind,
        first: male.from,
        last: male.to,
        mayDelay: false,
        shortestDays: takes.shortestDays,
        longestDays: takes.longestDays,
        source: takes.source,
        narrowed: null,
        openedAt: Math.min(now, male.to ?? now),
        openedBy: CURATOR,
        outcome: isBorn ? "born" : null,
        endedAt: isBorn ? pup.from : null,
      },
    ];
  });
}

/** Writes profiles of the species that live in the demo, as the library has them. Bands stay as the scenario set them. Safe to repeat. */
export async function writeHabitat(store: Store, now: Instant): Promise<void> {
  const { residents } = await store.readSetUp();
  const lives = new Set(residents.map((stay) => stay.species));
  const files = (await openLibrary()()).filter((file) => lives.has(file.species.id));
  const profiles = files.flatMap((file) =>
    file.profiles.map(
      (form): Profile => ({
        ...form,
        id: `profile-${file.species.id}-${form.population?.toLowerCase().replaceAll(" ", "-") ?? "all"}`,
        species: file.species.id,
        version: 1,
        recordedAt: now,
        recordedBy: CURATOR,
        reason: "taken from the library",
      }),
    ),
  );
  const change = {
    species: files.map((file) => file.species),
    profiles,
    compromises: [compromiseAt(now)],
    watches: watchesOf(
      residents,
      files.map((file) => file.species),
      now,
    ),
  };
  const audit = {
    at: now,
    actor: CURATOR,
    actorId: "demo",
    verb: "add-from-library",
    subject: "profile:demo",
  };
  await store.writeHabitat(change, [], now, { ...audit, record: change });
}
