import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** Where the generated migrations of a dialect lie. */
export const migrationsFolder = (dialect: "sqlite" | "postgres"): string =>
  join(fileURLToPath(import.meta.url), "..", "migrations", dialect);
