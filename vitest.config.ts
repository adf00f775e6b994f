import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";
import { LongestFirst } from "#tests/helpers/longest-first.ts";

/**
 * Tests that leave nothing behind, no environment, no signals, no child processes of their own: they share a process with others, which
 * loads what they test once.
 */
const SHARING = ["core", "published", "services", "app"].map(
  (folder) => `tests/${folder}/**/*.test.{ts,tsx}`,
);

export default defineConfig({
  // Next answers this import itself; under plain Node it does not exist.
  resolve: {
    alias: { "server-only": fileURLToPath(import.meta.resolve("next/dist/compiled/server-only/empty.js")) },
  },
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: "apart",
          include: ["tests/**/*.test.{ts,tsx}"],
          exclude: ["tests/tools/**", "tests/bench/**", "tests/soak/**", "node_modules/**", ...SHARING],
          globalSetup: "tests/helpers/store-folder.ts",
        },
      },
      {
        extends: true,
        test: {
          name: "sharing",
          include: SHARING,
          isolate: false,
          globalSetup: "tests/helpers/store-folder.ts",
        },
      },
    ],
    environment: "node",
    // A process per file where nothing else is said: native modules, environment variables and signals stay apart.
    pool: "forks",
    // One more than a small machine has cores: a test waits for browsers, processes and timers as often as it computes.
    maxWorkers: 3,
    sequence: { sequencer: LongestFirst },
    // They end what hangs, and are long enough for a machine that has ten other things to do.
    testTimeout: 180_000,
    hookTimeout: 180_000,
    expect: { poll: { timeout: 30_000 } },
    passWithNoTests: false,
    allowOnly: false,
    restoreMocks: true,
    unstubEnvs: true,
  },
});
