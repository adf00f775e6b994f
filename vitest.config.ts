import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.{ts,tsx}"],
    exclude: ["tests/tools/**", "tests/bench/**", "node_modules/**"],
    environment: "node",
    // A process per file: native modules, environment variables and signals stay apart.
    pool: "forks",
    maxWorkers: 2,
    testTimeout: 20_000,
    hookTimeout: 60_000,
    passWithNoTests: false,
    allowOnly: false,
    restoreMocks: true,
    unstubEnvs: true,
  },
});
