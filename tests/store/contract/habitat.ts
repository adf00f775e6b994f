import { expect, it } from "vitest";
import type { Habitat } from "#store/port.ts";
import { audit, logVersion } from "./samples.ts";
import { eachWith, type OpenSubject, T, withParts } from "./subject.ts";

const ENTRY = {
  quantity: "temperature",
  stage: "adult",
  month: 11,
  low: 10.25,
  typical: null,
  high: 14.5,
  means: "percentiles 5 to 95",
  kind: "advice",
  depth: "to 50 m",
  place: "an invented bay",
  years: "2001 to 2004",
  source: "invented for a test",
  mark: "read",
  method: "logger",
  confidence: "high",
  note: null,
} as const;
const HABITAT: Habitat = {
  species: [
    {
      id: "wolf-eel",
      name: "Wolf eel",
      scientific: "Anarrhichthys ocellatus",
      group: "bony fish",
      development: [
        { kind: "incubation", shortestDays: 91, longestDays: 112, source: "invented", mark: "from memory" },
      ],
      mayDelay: false,
      delaySource: null,
      facts: [{ says: "guards its eggs", source: "invented", mark: "read as quoted" }],
    },
  ],
  profiles: [
    {
      id: "profile-1",
      species: "wolf-eel",
      population: "north",
      version: 1,
      latitude: 48.5,
      longitude: -124.5,
      entries: [ENTRY, { ...ENTRY, stage: null, month: null, low: null, typical: 12 }],
      recordedAt: T,
      recordedBy: "Ada",
      reason: "first",
    },
  ],
  compromises: [
    {
      id: "compromise-1",
      system: "system-kelp",
      quantity: "temperature",
      months: [1, 12],
      lowSide: { species: "garibaldi", stage: "adult" },
      highSide: { species: "wolf-eel", stage: "egg or larva" },
      low: 14,
      high: 15.5,
      actionLow: null,
      actionHigh: 17,
      reason: "until the eggs hatch",
      signedBy: "Ada",
      signedAt: T,
      validFrom: T,
      validTo: null,
    },
  ],
  watches: [
    {
      id: "watch-1",
      system: "system-kelp",
      animal: "animal-1",
      species: "wolf-eel",
      kind: "incubation",
      first: T,
      last: null,
      mayDelay: false,
      shortestDays: 91,
      longestDays: 112,
      source: "invented",
      narrowed: { earliest: T + 1, latest: T + 2, by: "Ada", at: T, reason: "seen through the shell" },
      openedAt: T,
      openedBy: "Ada",
      outcome: null,
      endedAt: null,
    },
  ],
  breedingEvents: [
    {
      id: "event-1",
      watch: "watch-1",
      system: "system-kelp",
      animal: "animal-1",
      kind: "laying",
      at: T,
      data: { eggs: 7, note: "under the “ledge”" },
      by: "Ada",
      recordedAt: T,
      supersedes: null,
    },
  ],
  homeWater: [
    {
      id: "series-1",
      name: "Race Bay",
      latitude: 48.3,
      longitude: -123.5,
      quantity: "temperature",
      months: Array.from({ length: 12 }, (_, i) => ({ value: 8 + i / 4, spread: i === 0 ? null : 0.5 })),
      source: "own logger",
      recordedAt: T,
      recordedBy: "Ada",
      reason: "better than a box",
      withdrawnAt: null,
    },
  ],
  seasonPlans: [
    {
      id: "season-1",
      system: "system-kelp",
      quantity: "temperature",
      setPoints: [
        [T, 14],
        [T + 7, 14.5],
      ],
      validFrom: T,
      validTo: null,
      adoptedBy: "Ada",
      adoptedAt: T,
      reason: "breeding year",
      source: "series-1",
    },
  ],
  lightPlans: [
    {
      id: "light-1",
      system: "system-kelp",
      hours: [10.5],
      middle: "13:00",
      latitude: null,
      shiftDays: 182,
      validFrom: T,
      validTo: T + 9,
      setBy: "Ada",
      recordedAt: T,
      reason: "dim",
      source: "common practice, no source",
    },
  ],
};

export function describeHabitat(open: OpenSubject): void {
  const subject = eachWith(open);

  it("reads back everything known of animals' homes", async () => {
    const { store } = await withParts(subject().store);
    await store.writeHabitat(HABITAT, [], T, audit("save-profile"));
    expect(await store.readHabitat()).toEqual(HABITAT);
  });

  it("replaces by id, and a profile's entries whole", async () => {
    const { store } = await withParts(subject().store);
    await store.writeHabitat(HABITAT, [], T, audit("save-profile"));
    const [profile] = HABITAT.profiles;
    if (!profile) throw new Error("no profile");
    await store.writeHabitat({ profiles: [{ ...profile, entries: [ENTRY] }] }, [], T, audit("save-profile"));
    const read = await store.readHabitat();
    expect(read.profiles).toEqual([{ ...profile, entries: [ENTRY] }]);
    expect(read.species).toEqual(HABITAT.species);
  });

  it("writes bands with who set their edges, log entries, journal and audit in one commit", async () => {
    const { store } = await withParts(subject().store);
    const before = (await store.journalAfter(0, 100)).length;
    const band = {
      id: "band-1",
      system: "system-kelp",
      quantity: "temperature",
      point: null,
      months: [{ low: 10, high: 14, actionLow: 8, actionHigh: 16, urgentLow: null, urgentHigh: null }],
      validFrom: T,
      validTo: null,
      recordedAt: T,
      setBy: "Ada",
      reason: "residents",
      source: "profiles",
      origin: "residents" as const,
      confirmedBy: "Ada",
    };
    const written = await store.writeHabitat(
      { setUp: { bands: [band] }, bandBasis: [{ band: "band-1", basis: '{"low":1}' }], log: [logVersion()] },
      [{ system: "system-kelp", from: T - 7 }],
      T + 1,
      audit("move-resident"),
    );
    const rows = (await store.journalAfter(0, 100)).slice(before);
    expect(rows.map(({ kind, ref, rejudge }) => [kind, ref ?? rejudge])).toEqual([
      ["log", logVersion().root],
      ["set-up", { system: "system-kelp", from: T - 7 }],
    ]);
    expect(written.received).toBe(rows.at(-1)?.received);
    expect((await store.readAuditRow(written.audit))?.verb).toBe("move-resident");
    expect((await store.readSetUp()).bands).toEqual([band]);
    expect(await store.readBandBasis(["band-1", "nothing"])).toEqual([
      { band: "band-1", basis: '{"low":1}' },
    ]);
    expect(await store.readLogEntry(logVersion().root)).not.toBeNull();
  });

  it("tells every reader of the journal, also where there is nothing to judge again", async () => {
    const { store } = await withParts(subject().store);
    const { received } = await store.writeHabitat(
      { species: HABITAT.species },
      [],
      T + 5,
      audit("save-profile"),
    );
    const [entry] = (await store.journalAfter(0, 100)).slice(-1);
    expect(entry).toMatchObject({ kind: "set-up", ref: null, rejudge: null, received });
  });

  it("gives the years of a stay back in a resident's rows, with the animal of rows that have none", async () => {
    const { store } = await withParts(subject().store);
    await store.writeHabitat(HABITAT, [], T, audit("save-profile"));
    const resident = {
      id: "resident-1",
      animal: "animal-1",
      system: "system-kelp",
      species: "wolf-eel",
      speciesName: "Wolf eel",
      population: "north",
      name: "Bramble",
      sex: "male" as const,
      stage: "adult" as const,
      count: 1,
      from: T,
      to: T + 9,
      ended: "moved" as const,
    };
    await store.writeSetUp({ residents: [resident] }, [], T);
    const read = await store.readSetUp();
    expect(read.residents).toEqual([resident]);
    // Naming an animal's species again keeps what is known of it.
    expect((await store.readHabitat()).species).toEqual(HABITAT.species);
  });
}
