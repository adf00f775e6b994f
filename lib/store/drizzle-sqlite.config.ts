import { defineConfig } from "drizzle-kit";

export default defineConfig({
  dialect: "sqlite",
  schema: "./lib/store/schema-sqlite.ts",
  out: "./lib/store/migrations/sqlite",
});
