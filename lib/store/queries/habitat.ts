import { asc, inArray, sql } from "drizzle-orm";
import type { NewAudit } from "#core/audit/audit.ts";
import type { BreedingEvent, BreedingWatch } from "#core/habitat/breeding.ts";
import type {
  Compromise,
  HomeWaterSeries,
  Profile,
  ProfileEntry,
  SeasonPlan,
  Species,
} from "#core/habitat/index.ts";
import type { BandBasis } from "#core/set-up/follow-residents.ts";
import type { Database } from "../kits/postgres.ts";
import { type Habitat, type HabitatChange, StoreError } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";
import { addToJournal } from "./journal.ts";
import { writeLog } from "./log.ts";
import { chunks, fromNewRow } from "./rows.ts";
import { noteSetUp, upsertSetUp } from "./set-up.ts";

const read = <T>(text: string): T => JSON.parse(text) as T;

async function readProfiles(db: Database, tables: Tables): Promise<Profile[]> {
  const { profile, profileEntry } = tables;
  const rows = await db
    .select()
    .from(profile)
    .orderBy(asc(profile.recordedAt), asc(profile.version), asc(profile.id));
  const entries = new Map<string, ProfileEntry[]>();
  const all = await db
    .select()
    .from(profileEntry)
    .orderBy(asc(profileEntry.profile), asc(profileEntry.place));
  for (const { profile: of, place: _place, where, ...entry } of all) {
    const known = entries.get(of);
    const mine = { ...entry, place: where };
    if (known) known.push(mine);
    else entries.set(of, [mine]);
  }
  return rows.map((row) => ({ ...row, entries: entries.get(row.id) ?? [] }));
}

/** Everything known of animals' homes, in the order recorded. */
export async function readHabitat(db: Database, tables: Tables): Promise<Habitat> {
  const { species, compromise, breedingWatch, breedingEvent, homeWaterSeries, seasonPlan, lightPlan } =
    tables;
  const kinds = await db.select().from(species).orderBy(asc(species.id));
  const signed = await db.select().from(compromise).orderBy(asc(compromise.signedAt), asc(compromise.id));
  const watches = await db
    .select()
    .from(breedingWatch)
    .orderBy(asc(breedingWatch.openedAt), asc(breedingWatch.id));
  const events = await db.select().from(breedingEvent).orderBy(asc(breedingEvent.at), asc(breedingEvent.id));
  const series = await db
    .select()
    .from(homeWaterSeries)
    .orderBy(asc(homeWaterSeries.recordedAt), asc(homeWaterSeries.id));
  const seasons = await db.select().from(seasonPlan).orderBy(asc(seasonPlan.adoptedAt), asc(seasonPlan.id));
  const lights = await db.select().from(lightPlan).orderBy(asc(lightPlan.recordedAt), asc(lightPlan.id));
  return {
    species: kinds.map(
      ({ development, facts, ...row }): Species => ({
        ...row,
        development: development === null ? [] : read(development),
        facts: facts === null ? [] : read(facts),
      }),
    ),
    profiles: await readProfiles(db, tables),
    compromises: signed.map(
      ({ months, lowSpecies, lowStage, highSpecies, highStage, ...row }): Compromise => ({
        ...row,
        months: read(months),
        lowSide: { species: lowSpecies, stage: lowStage },
        highSide: { species: highSpecies, stage: highStage },
      }),
    ),
    watches: watches.map(
      (row): BreedingWatch => ({ ...row, narrowed: row.narrowed === null ? null : read(row.narrowed) }),
    ),
    breedingEvents: events.map((row): BreedingEvent => ({ ...row, data: read(row.data) })),
    homeWater: series.map((row): HomeWaterSeries => ({ ...row, months: read(row.months) })),
    seasonPlans: seasons.map((row): SeasonPlan => ({ ...row, setPoints: read(row.setPoints) })),
    lightPlans: lights.map((row) => ({ ...row, hours: read<number[]>(row.hours) })),
  };
}

export async function readBandBasis(
  db: Database,
  { bandBasis }: Tables,
  bands: readonly string[],
): Promise<BandBasis[]> {
  const rows: BandBasis[] = [];
  for (const chunk of chunks(bands))
    rows.push(
      ...(await db
        .select()
        .from(bandBasis)
        .where(inArray(bandBasis.band, chunk))
        .orderBy(asc(bandBasis.band))),
    );
  return rows;
}

async function upsertProfiles(db: Database, tables: Tables, profiles: readonly Profile[]): Promise<void> {
  const { profile, profileEntry } = tables;
  for (const rows of chunks(profiles, profile))
    await db
      .insert(profile)
      .values(rows.map(({ entries: _entries, ...row }) => row))
      .onConflictDoUpdate({ target: profile.id, set: fromNewRow(profile) });
  for (const ids of chunks(profiles.map((row) => row.id)))
    await db.delete(profileEntry).where(inArray(profileEntry.profile, ids));
  const entries = profiles.flatMap((row) =>
    row.entries.map(({ place: where, ...entry }, place) => ({ ...entry, profile: row.id, place, where })),
  );
  for (const rows of chunks(entries, profileEntry)) await db.insert(profileEntry).values(rows);
}

async function upsertAnimals(db: Database, tables: Tables, change: HabitatChange): Promise<void> {
  const { species, compromise, breedingWatch, breedingEvent } = tables;
  for (const rows of chunks(change.species ?? [], species))
    await db
      .insert(species)
      .values(
        rows.map((row) => ({
          ...row,
          development: JSON.stringify(row.development),
          facts: JSON.stringify(row.facts),
        })),
      )
      .onConflictDoUpdate({ target: species.id, set: fromNewRow(species) });
  await upsertProfiles(db, tables, change.profiles ?? []);
  for (const rows of chunks(change.compromises ?? [], compromise))
    await db
      .insert(compromise)
      .values(
        rows.map(({ lowSide, highSide, months, ...row }) => ({
          ...row,
          months: JSON.stringify(months),
          lowSpecies: lowSide.species,
          lowStage: lowSide.stage,
          highSpecies: highSide.species,
          highStage: highSide.stage,
        })),
      )
      .onConflictDoUpdate({ target: compromise.id, set: fromNewRow(compromise) });
  for (const rows of chunks(change.watches ?? [], breedingWatch))
    await db
      .insert(breedingWatch)
      .values(rows.map((row) => ({ ...row, narrowed: row.narrowed && JSON.stringify(row.narrowed) })))
      .onConflictDoUpdate({ target: breedingWatch.id, set: fromNewRow(breedingWatch) });
  for (const rows of chunks(change.breedingEvents ?? [], breedingEvent))
    await db
      .insert(breedingEvent)
      .values(rows.map((row) => ({ ...row, data: JSON.stringify(row.data) })))
      .onConflictDoUpdate({ target: breedingEvent.id, set: fromNewRow(breedingEvent) });
}

async function upsertPlans(db: Database, tables: Tables, change: HabitatChange): Promise<void> {
  const { bandBasis, homeWaterSeries, seasonPlan, lightPlan } = tables;
  for (const rows of chunks(change.bandBasis ?? [], bandBasis))
    await db
      .insert(bandBasis)
      .values(rows)
      .onConflictDoUpdate({ target: bandBasis.band, set: { basis: sql`excluded.basis` } });
  for (const rows of chunks(change.homeWater ?? [], homeWaterSeries))
    await db
      .insert(homeWaterSeries)
      .values(rows.map((row) => ({ ...row, months: JSON.stringify(row.months) })))
      .onConflictDoUpdate({ target: homeWaterSeries.id, set: fromNewRow(homeWaterSeries) });
  for (const rows of chunks(change.seasonPlans ?? [], seasonPlan))
    await db
      .insert(seasonPlan)
      .values(rows.map((row) => ({ ...row, setPoints: JSON.stringify(row.setPoints) })))
      .onConflictDoUpdate({ target: seasonPlan.id, set: fromNewRow(seasonPlan) });
  for (const rows of chunks(change.lightPlans ?? [], lightPlan))
    await db
      .insert(lightPlan)
      .values(rows.map((row) => ({ ...row, hours: JSON.stringify(row.hours) })))
      .onConflictDoUpdate({ target: lightPlan.id, set: fromNewRow(lightPlan) });
}

/** See the port. A change with nothing to judge again still has its row in the journal, so that every reader hears of it. */
export async function writeHabitat(
  db: Database,
  tables: Tables,
  change: HabitatChange,
  rejudge: readonly { readonly system: string; readonly from: number }[],
  now: number,
  audit: NewAudit,
): Promise<{ readonly received: number; readonly audit: number }> {
  await upsertAnimals(db, tables, change);
  await upsertSetUp(db, tables, change.setUp ?? {});
  await upsertPlans(db, tables, change);
  for (const version of change.log ?? []) await writeLog(db, tables, version, now, null);
  const noted = await noteSetUp(db, tables, rejudge, now);
  const received =
    noted.received ?? (await addToJournal(db, tables, now, [{ kind: "set-up" }])).at(-1)?.received;
  if (received === undefined) throw new StoreError("unavailable", "The journal row was not stored.");
  return { received, audit: await addToAudit(db, tables, audit) };
}
