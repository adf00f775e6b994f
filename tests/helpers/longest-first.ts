import { relative } from "node:path";
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Folders with tests of a minute: real processes, browsers and database servers, or fourteen days under a clock of their own. */
const LONG = ["tests/e2e/", "tests/faults/", "tests/ingest/", "tests/store/", "tests/auth/"];

/**
 * Begins with what takes long, so that no core stands idle beside a last long file. Vitest goes by the last run, or by size where there
 * was none: but the longest are among the shortest to read.
 */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isLong = ({ moduleId }: TestSpecification) => {
      const path = relative(this.ctx.config.root, moduleId).replaceAll("\\", "/");
      return LONG.some((folder) => path.startsWith(folder));
    };
    const sorted = await super.sort(files);
    return [...sorted.filter(isLong), ...sorted.filter((file) => !isLong(file))];
  }
}
