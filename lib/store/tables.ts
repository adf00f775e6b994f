import type { Kit } from "./kits/postgres.ts";
import { defineEvaluation } from "./tables/evaluation.ts";
import { defineHabitat } from "./tables/habitat.ts";
import { defineIntake } from "./tables/intake.ts";
import { definePeople } from "./tables/people.ts";
import { defineProbes } from "./tables/probes.ts";
import { defineRecords } from "./tables/records.ts";
import { defineSetUp } from "./tables/set-up.ts";
import { defineUpkeep } from "./tables/upkeep.ts";

/** Every table, defined once; called once a dialect with that dialect's column kit. */
export function defineTables(kit: Kit) {
  /** One row a fact about the database itself: `schema`, the number of the newest migration that ran. */
  const meta = kit.table("meta", { key: kit.text("key").primaryKey(), value: kit.text("value").notNull() });
  return {
    ...defineSetUp(kit),
    ...defineIntake(kit),
    ...defineEvaluation(kit),
    ...definePeople(kit),
    ...defineRecords(kit),
    ...defineUpkeep(kit),
    ...defineProbes(kit),
    ...defineHabitat(kit),
    meta,
  };
}

export type Tables = ReturnType<typeof defineTables>;
