/** What `npm run soak` runs: the tests of faults with the counts it is given, and what is too long for `npm test` altogether. */
import { defineConfig, mergeConfig } from "vitest/config";
import ordinary from "../../vitest.config.ts";

export default mergeConfig(
  // Without the projects, stores lie on the disk: what is measured is measured with it.
  { ...ordinary, test: { ...ordinary.test, projects: undefined } },
  defineConfig({
    test: {
      include: ["tests/faults/**/*.test.ts", "tests/soak/**/*.test.ts"],
      // One story at a time: each has the machine's two cores busy.
      maxWorkers: 1,
      fileParallelism: false,
    },
  }),
);
