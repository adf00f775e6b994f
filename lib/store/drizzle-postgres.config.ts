import { defineConfig } from "drizzle-kit";

export default defineConfig({
  dialect: "postgresql",
  schema: "./lib/store/tables/schema-postgres.ts",
  out: "./lib/store/migrations/postgres",
});
