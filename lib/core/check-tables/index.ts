import { CARBONATE_LIGHT_UNITS_TABLES } from "./carbonate-light-units.ts";
import type { TableSpec } from "./check.ts";
import { GAS_AND_NITROGEN_TABLES } from "./gas-and-nitrogen.ts";
import { SALT_TABLES } from "./salt.ts";

/** What a table of each kind holds: its columns, what is computed beside them, and how close it must be. */
export const CHECK_TABLES: Readonly<Record<string, TableSpec>> = {
  ...SALT_TABLES,
  ...GAS_AND_NITROGEN_TABLES,
  ...CARBONATE_LIGHT_UNITS_TABLES,
};

export { type CheckReport, CheckTableError, checkTable } from "./check.ts";
