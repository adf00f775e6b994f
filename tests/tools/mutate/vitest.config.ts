import { defineConfig } from "vitest/config";

/** The tests that hold equations and units, and nothing that opens a store, a broker or a browser. */
export default defineConfig({
  test: {
    include: [
      "tests/core/chemistry/**/*.test.ts",
      "tests/core/units/**/*.test.ts",
      "tests/published/**/*.test.ts",
    ],
    environment: "node",
    silent: true,
  },
});
