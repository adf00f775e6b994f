import type { BreedingEventKind, Outcome } from "#core/habitat/breeding.ts";
import type { Confidence, Development, EntryKind, Mark, Meaning, Stage } from "#core/habitat/profile.ts";
import type { Kit } from "../kits/postgres.ts";

/** What is known of animals' homes, and what people agreed on or adopted about it. Ids of systems and species stand without a foreign key where the row outlives them. */
export function defineHabitat(kit: Kit) {
  const profile = kit.table(
    "profile",
    {
      id: kit.text("id").primaryKey(),
      species: kit.text("species").notNull(),
      population: kit.text("population"),
      version: kit.integer("version").notNull(),
      latitude: kit.real("latitude"),
      longitude: kit.real("longitude"),
      recordedAt: kit.instant("recorded_at").notNull(),
      recordedBy: kit.text("recorded_by").notNull(),
      reason: kit.text("reason").notNull(),
    },
    (t) => [kit.index("profile_species").on(t.species, t.population, t.version)],
  );
  const profileEntry = kit.table(
    "profile_entry",
    {
      profile: kit
        .text("profile")
        .notNull()
        .references(() => profile.id),
      /** Place in the profile, from 0. */
      place: kit.integer("place").notNull(),
      quantity: kit.text("quantity").notNull(),
      stage: kit.text("stage").$type<Stage>(),
      month: kit.integer("month"),
      low: kit.real("low"),
      typical: kit.real("typical"),
      high: kit.real("high"),
      means: kit.text("means").$type<Meaning>().notNull(),
      kind: kit.text("kind").$type<EntryKind>().notNull(),
      depth: kit.text("depth"),
      where: kit.text("where_at"),
      years: kit.text("years"),
      source: kit.text("source").notNull(),
      mark: kit.text("mark").$type<Mark>().notNull(),
      method: kit.text("method"),
      confidence: kit.text("confidence").$type<Confidence>().notNull(),
      note: kit.text("note"),
    },
    (t) => [kit.primaryKey({ columns: [t.profile, t.place] })],
  );
  /** Who set which edge of a band that follows residents, as it was known when the band was made. */
  const bandBasis = kit.table("band_basis", {
    band: kit.text("band").primaryKey(),
    /** JSON. */
    basis: kit.text("basis").notNull(),
  });
  const compromise = kit.table(
    "compromise",
    {
      id: kit.text("id").primaryKey(),
      system: kit.text("system").notNull(),
      quantity: kit.text("quantity").notNull(),
      /** JSON: months 1 to 12. */
      months: kit.text("months").notNull(),
      lowSpecies: kit.text("low_species").notNull(),
      lowStage: kit.text("low_stage").$type<Stage>().notNull(),
      highSpecies: kit.text("high_species").notNull(),
      highStage: kit.text("high_stage").$type<Stage>().notNull(),
      low: kit.real("low").notNull(),
      high: kit.real("high").notNull(),
      actionLow: kit.real("action_low"),
      actionHigh: kit.real("action_high"),
      reason: kit.text("reason").notNull(),
      signedBy: kit.text("signed_by").notNull(),
      signedAt: kit.instant("signed_at").notNull(),
      validFrom: kit.instant("valid_from").notNull(),
      validTo: kit.instant("valid_to"),
    },
    (t) => [kit.index("compromise_system").on(t.system, t.quantity)],
  );
  const breedingWatch = kit.table(
    "breeding_watch",
    {
      id: kit.text("id").primaryKey(),
      system: kit.text("system").notNull(),
      animal: kit.text("animal").notNull(),
      species: kit.text("species").notNull(),
      kind: kit.text("kind").$type<Development["kind"]>().notNull(),
      first: kit.instant("first_at"),
      last: kit.instant("last_at"),
      mayDelay: kit.yesNo("may_delay").notNull(),
      shortestDays: kit.real("shortest_days").notNull(),
      longestDays: kit.real("longest_days").notNull(),
      source: kit.text("source").notNull(),
      /** JSON or null. */
      narrowed: kit.text("narrowed"),
      openedAt: kit.instant("opened_at").notNull(),
      openedBy: kit.text("opened_by").notNull(),
      outcome: kit.text("outcome").$type<Outcome>(),
      endedAt: kit.instant("ended_at"),
    },
    (t) => [kit.index("breeding_watch_system").on(t.system)],
  );
  const breedingEvent = kit.table(
    "breeding_event",
    {
      id: kit.text("id").primaryKey(),
      watch: kit.text("watch"),
      system: kit.text("system").notNull(),
      animal: kit.text("animal"),
      kind: kit.text("kind").$type<BreedingEventKind>().notNull(),
      at: kit.instant("at").notNull(),
      /** JSON. */
      data: kit.text("data").notNull(),
      by: kit.text("by_name").notNull(),
      recordedAt: kit.instant("recorded_at").notNull(),
      supersedes: kit.text("supersedes"),
    },
    (t) => [kit.index("breeding_event_system").on(t.system, t.at)],
  );
  const homeWaterSeries = kit.table("home_water_series", {
    id: kit.text("id").primaryKey(),
    name: kit.text("name").notNull(),
    latitude: kit.real("latitude").notNull(),
    longitude: kit.real("longitude").notNull(),
    quantity: kit.text("quantity").notNull(),
    /** JSON: twelve of value and spread. */
    months: kit.text("months").notNull(),
    source: kit.text("source").notNull(),
    recordedAt: kit.instant("recorded_at").notNull(),
    recordedBy: kit.text("recorded_by").notNull(),
    reason: kit.text("reason").notNull(),
    withdrawnAt: kit.instant("withdrawn_at"),
  });
  const seasonPlan = kit.table(
    "season_plan",
    {
      id: kit.text("id").primaryKey(),
      system: kit.text("system").notNull(),
      quantity: kit.text("quantity").notNull(),
      /** JSON: [instant, value]. */
      setPoints: kit.text("set_points").notNull(),
      validFrom: kit.instant("valid_from").notNull(),
      validTo: kit.instant("valid_to"),
      adoptedBy: kit.text("adopted_by").notNull(),
      adoptedAt: kit.instant("adopted_at").notNull(),
      reason: kit.text("reason").notNull(),
      source: kit.text("source").notNull(),
    },
    (t) => [kit.index("season_plan_system").on(t.system, t.quantity)],
  );
  const lightPlan = kit.table(
    "light_plan",
    {
      id: kit.text("id").primaryKey(),
      system: kit.text("system").notNull(),
      /** JSON: 1 or 12 numbers. */
      hours: kit.text("hours").notNull(),
      middle: kit.text("middle").notNull(),
      latitude: kit.real("latitude"),
      shiftDays: kit.real("shift_days").notNull(),
      validFrom: kit.instant("valid_from").notNull(),
      validTo: kit.instant("valid_to"),
      setBy: kit.text("set_by").notNull(),
      recordedAt: kit.instant("recorded_at").notNull(),
      reason: kit.text("reason").notNull(),
      source: kit.text("source").notNull(),
    },
    (t) => [kit.index("light_plan_system").on(t.system)],
  );
  return {
    profile,
    profileEntry,
    bandBasis,
    compromise,
    breedingWatch,
    breedingEvent,
    homeWaterSeries,
    seasonPlan,
    lightPlan,
  };
}
