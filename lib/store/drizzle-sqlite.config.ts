import { defineConfig } from "drizzle-kit";

export default defineConfig({
  dialect: "sqlite",
  schema: "./lib/store/tables/schema-sqlite.ts",
  out: "./lib/store/migrations/sqlite",
});
