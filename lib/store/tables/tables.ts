import type { Kit } from "../kits/postgres.ts";
import { defineClocks } from "./clocks.ts";
import { defineEvaluation } from "./evaluation.ts";
import { defineHabitat } from "./habitat.ts";
import { defineIntake } from "./intake.ts";
import { definePeople } from "./people.ts";
import { defineProbes } from "./probes.ts";
import { defineRecords } from "./records.ts";
import { defineSetUp } from "./set-up.ts";
import { defineUpkeep } from "./upkeep.ts";

/** Every table, defined once; called once a dialect with that dialect's column kit. */
export function defineTables(kit: Kit) {
  /** One row a fact about the database itself: `schema`, the number of the newest migration that ran. */
  const meta = kit.table("meta", { key: kit.text("key").primaryKey(), value: kit.text("value").notNull() });
  return {
    ...defineSetUp(kit),
    ...defineIntake(kit),
    ...defineClocks(kit),
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
