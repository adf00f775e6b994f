import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** A mutant is dead at the first test that fails: single values come first, properties with hundreds of runs last. */
class QuickFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) =>
      moduleId.includes("/published/") || moduleId.includes("-edges")
        ? 0
        : /never-nan|uncertainty|columns|range/.test(moduleId)
          ? 2
          : 1;
    return files.sort((a, b) => rank(a) - rank(b) || a.moduleId.localeCompare(b.moduleId, "en"));
  }
}

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
    isolate: false,
    setupFiles: ["tests/tools/mutate/one-worker.ts"],
    sequence: { sequencer: QuickFirst },
  },
});
