import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";
import { LongestFirst } from "./tests/helpers/longest-first.ts";

export default defineConfig({
  // Next answers this import itself; under plain Node it does not exist.
  resolve: {
    alias: { "server-only": fileURLToPath(import.meta.resolve("next/dist/compiled/server-only/empty.js")) },
  },
  test: {
    include: ["tests/**/*.test.{ts,tsx}"],
    exclude: ["tests/tools/**", "tests/bench/**", "tests/soak/**", "node_modules/**"],
    environment: "node",
    globalSetup: "tests/helpers/store-folder.ts",
    // A process per file: native modules, environment variables and signals stay apart.
    pool: "forks",
    // One more than a small machine has cores: a test waits for browsers, processes and timers as often as it computes.
    maxWorkers: 3,
    sequence: { sequencer: LongestFirst },
    // A browser journey on two shared cores, with parts that are fetched when they are wanted.
    testTimeout: 60_000,
    hookTimeout: 120_000,
    expect: { poll: { timeout: 10_000 } },
    passWithNoTests: false,
    allowOnly: false,
    restoreMocks: true,
    unstubEnvs: true,
  },
});
