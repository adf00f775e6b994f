import type { BandOrigin } from "#core/habitat/band.ts";
import type { Stage } from "#core/habitat/profile.ts";
import type { StayEnd } from "#core/habitat/residents.ts";
import type { StartingBands } from "#core/habitat/type-defaults.ts";
import type { PointRole } from "#core/set-up/point-role.ts";
import type { SystemType } from "#core/set-up/system-type.ts";
import type { Kit } from "../kits/postgres.ts";
import type { Origin, SourceKind, WaterType } from "../port.ts";

/** What a site is made of: buildings, systems, points, streams, targets and who lives there. */
export function defineSetUp(kit: Kit) {
  const site = kit.table("site", {
    id: kit.text("id").primaryKey(),
    code: kit.text("code").notNull().unique(),
    name: kit.text("name").notNull(),
    zone: kit.text("zone").notNull(),
    latitude: kit.real("latitude").notNull(),
    longitude: kit.real("longitude").notNull(),
    elevation: kit.real("elevation").notNull(),
  });
  const loop = kit.table("loop", {
    id: kit.text("id").primaryKey(),
    site: kit
      .text("site")
      .notNull()
      .references(() => site.id),
    code: kit.text("code").notNull(),
    name: kit.text("name").notNull(),
  });
  const system = kit.table("system", {
    id: kit.text("id").primaryKey(),
    site: kit
      .text("site")
      .notNull()
      .references(() => site.id),
    code: kit.text("code").notNull().unique(),
    name: kit.text("name").notNull(),
    kind: kit.text("kind").notNull(),
    /** Every writer says the type; the default is what the migration that added the column needs. */
    type: kit.text("type").$type<SystemType>().notNull().default("exhibit"),
    startingBands: kit.text("starting_bands").$type<StartingBands>(),
    water: kit.text("water").$type<WaterType>().notNull(),
    volume: kit.real("volume").notNull(),
    duty: kit.real("duty"),
    opened: kit.instant("opened").notNull(),
    closed: kit.instant("closed"),
    youngFilter: kit.yesNo("young_filter").notNull(),
  });
  const loopMember = kit.table(
    "loop_member",
    {
      loop: kit
        .text("loop")
        .notNull()
        .references(() => loop.id),
      system: kit
        .text("system")
        .notNull()
        .references(() => system.id),
    },
    (t) => [kit.primaryKey({ columns: [t.loop, t.system] })],
  );
  const point = kit.table(
    "point",
    {
      id: kit.text("id").primaryKey(),
      system: kit
        .text("system")
        .notNull()
        .references(() => system.id),
      code: kit.text("code").notNull(),
      /** As with a system's type. */
      role: kit.text("role").$type<PointRole>().notNull().default("other"),
      roleGuessed: kit.yesNo("role_guessed").notNull().default(true),
      twinOf: kit.text("twin_of"),
    },
    (t) => [kit.uniqueIndex("point_system_code").on(t.system, t.code)],
  );
  const stream = kit.table(
    "stream",
    {
      id: kit.integer("id").primaryKey(),
      point: kit
        .text("point")
        .notNull()
        .references(() => point.id),
      quantity: kit.text("quantity").notNull(),
      origin: kit.text("origin").$type<Origin>().notNull(),
      interval: kit.instant("interval"),
      critical: kit.yesNo("critical").notNull(),
      /** JSON: what a pH or ORP probe's numbers stand on, oldest first. */
      basis: kit.text("basis"),
    },
    (t) => [kit.uniqueIndex("stream_point_quantity_origin").on(t.point, t.quantity, t.origin)],
  );
  const source = kit.table("source", {
    id: kit.integer("id").primaryKey(),
    code: kit.text("code").notNull().unique(),
    kind: kit.text("kind").$type<SourceKind>().notNull(),
  });
  const targetBand = kit.table(
    "target_band",
    {
      id: kit.text("id").primaryKey(),
      system: kit
        .text("system")
        .notNull()
        .references(() => system.id),
      quantity: kit.text("quantity").notNull(),
      point: kit.text("point"),
      /** JSON: one set of edges, or twelve. */
      months: kit.text("months").notNull(),
      validFrom: kit.instant("valid_from").notNull(),
      validTo: kit.instant("valid_to"),
      recordedAt: kit.instant("recorded_at").notNull(),
      setBy: kit.text("set_by").notNull(),
      reason: kit.text("reason").notNull(),
      source: kit.text("source").notNull(),
      /** Null: a person typed it. */
      origin: kit.text("origin").$type<BandOrigin>(),
      confirmedBy: kit.text("confirmed_by"),
    },
    (t) => [kit.index("target_band_system").on(t.system, t.quantity, t.validFrom)],
  );
  const plan = kit.table("plan", {
    id: kit.text("id").primaryKey(),
    system: kit
      .text("system")
      .notNull()
      .references(() => system.id),
    quantity: kit.text("quantity").notNull(),
    /** JSON of the course. */
    shape: kit.text("shape").notNull(),
    validFrom: kit.instant("valid_from").notNull(),
    validTo: kit.instant("valid_to"),
    setBy: kit.text("set_by").notNull(),
    reason: kit.text("reason").notNull(),
  });
  /** Rows of an older version have only id and name. */
  const species = kit.table("species", {
    id: kit.text("id").primaryKey(),
    name: kit.text("name").notNull(),
    scientific: kit.text("scientific"),
    group: kit.text("group_name"),
    /** JSON. */
    development: kit.text("development"),
    mayDelay: kit.yesNo("may_delay"),
    delaySource: kit.text("delay_source"),
    /** JSON. */
    facts: kit.text("facts"),
  });
  const resident = kit.table(
    "resident",
    {
      id: kit.text("id").primaryKey(),
      system: kit
        .text("system")
        .notNull()
        .references(() => system.id),
      species: kit
        .text("species")
        .notNull()
        .references(() => species.id),
      name: kit.text("name"),
      stage: kit.text("stage").$type<Stage>().notNull(),
      count: kit.integer("count").notNull(),
      from: kit.instant("from_at").notNull(),
      to: kit.instant("to_at"),
      /** Null in rows of an older version: the row's own id. */
      animal: kit.text("animal"),
      population: kit.text("population"),
      sex: kit.text("sex").$type<"female" | "male">(),
      ended: kit.text("ended").$type<StayEnd>(),
      /** Body mass of the whole row in kilograms, when that was so and how it is known. */
      mass: kit.real("mass"),
      massAt: kit.instant("mass_at"),
      massSource: kit.text("mass_source"),
    },
    (t) => [kit.index("resident_system").on(t.system), kit.index("resident_animal").on(t.animal)],
  );
  return { site, loop, loopMember, system, point, stream, source, targetBand, plan, species, resident };
}
