import { writeFileSync } from "node:fs";
import type { Reporter, SerializedError, TestModule } from "vitest/node";

export interface FileRecord {
  /** Relative to the project folder. */
  path: string;
  milliseconds: number;
  passed: number;
  failed: number;
  skipped: { name: string; reason: string }[];
  /** Published values that its tests held. */
  published: { table: string; values: number; worst: number; worstAt: string }[];
}

export interface RunRecord {
  files: FileRecord[];
  unhandledErrors: number;
}

function fileRecord(module: TestModule): FileRecord {
  const record: FileRecord = {
    path: module.relativeModuleId,
    milliseconds: Math.round(module.diagnostic().duration + module.diagnostic().collectDuration),
    passed: 0,
    failed: 0,
    skipped: [],
    published: [],
  };
  for (const test of module.children.allTests()) {
    const result = test.result();
    const { published } = test.meta();
    if (published && result.state === "passed") record.published.push(published);
    if (result.state === "passed") record.passed += 1;
    else if (result.state === "skipped") {
      record.skipped.push({ name: test.fullName, reason: result.note ?? "no reason given" });
    } else {
      // Failed, or still pending when the run was cut short: not seen to pass.
      record.failed += 1;
    }
  }
  // A file that could not be loaded, or whose set-up failed, has no failing test of its own to count.
  if (!module.ok() && record.failed === 0) record.failed = 1;
  return record;
}

/** Writes what `npm test` counts, with the reasons of skipped tests, which vitest's own JSON reporter leaves out. */
export default class RunRecordReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly SerializedError[]): void {
    const file = process.env.HOMEWATER_TEST_RECORD;
    if (!file) throw new Error("HOMEWATER_TEST_RECORD must name the file that the record is written to");
    const record: RunRecord = { files: modules.map(fileRecord), unhandledErrors: unhandledErrors.length };
    writeFileSync(file, JSON.stringify(record));
  }
}
