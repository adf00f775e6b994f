/**
 * Runs the tests of a mutant in the process that has them loaded: files are imported once, and a mutant costs the tests that reach it and
 * nothing else, the quickest first, until one fails. A worker for each run, as the test library starts it, took a second a mutant.
 */
import { readdirSync, readFileSync } from "node:fs";
import { register } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { INSTRUMENTER_CONSTANTS } from "@stryker-mutator/api/core";
import { declareFactoryPlugin, PluginKind } from "@stryker-mutator/api/plugin";
import {
  DryRunStatus,
  determineHitLimitReached,
  TestStatus,
  toMutantRunResult,
} from "@stryker-mutator/api/test-runner";

const FOLDERS = ["tests/core/chemistry", "tests/core/units", "tests/published"];

const filesIn = (folder) =>
  readdirSync(folder, { recursive: true })
    .filter((name) => name.endsWith(".test.ts"))
    .sort()
    .map((name) => join(folder, name))
    .filter((file) => /core\/(chemistry|units|check-tables)/.test(readFileSync(file, "utf8")));

class InProcessRunner {
  #state;
  #suite;
  /** Milliseconds that each test took without a mutant. */
  #took = new Map();

  constructor() {
    this.#state = globalThis[INSTRUMENTER_CONSTANTS.NAMESPACE] ??= {};
  }

  capabilities() {
    return { reloadEnvironment: false };
  }

  async init() {
    // What tests of published values tell of themselves, once a mutant, is of no use here.
    console.log = () => undefined;
    register("./redirect.mjs", import.meta.url);
    this.#suite = await import("./suite.mjs");
    for (const file of FOLDERS.flatMap(filesIn)) {
      this.#suite.begin(file);
      await import(pathToFileURL(join(process.cwd(), file)).href);
    }
  }

  async #one(test) {
    const began = performance.now();
    const told = { id: test.id, name: test.id, fileName: test.file };
    const timed = () => ({ timeSpentMs: performance.now() - began });
    try {
      await this.#suite.run(test);
      return { ...told, ...timed(), status: TestStatus.Success };
    } catch (error) {
      const failureMessage = error instanceof Error ? error.message : String(error);
      return { ...told, ...timed(), status: TestStatus.Failed, failureMessage };
    }
  }

  async dryRun() {
    const tests = [];
    this.#state.activeMutant = undefined;
    for (const test of this.#suite.collected) {
      this.#state.currentTestId = test.id;
      const result = await this.#one(test);
      this.#state.currentTestId = undefined;
      this.#took.set(test.id, result.timeSpentMs);
      tests.push(result);
    }
    return { status: DryRunStatus.Complete, tests, mutantCoverage: this.#state.mutantCoverage };
  }

  async mutantRun({ activeMutant, testFilter, hitLimit, disableBail }) {
    const wanted = testFilter === undefined ? null : new Set(testFilter);
    const reached = this.#suite.collected
      .filter((test) => wanted?.has(test.id) ?? true)
      .sort((a, b) => (this.#took.get(a.id) ?? 0) - (this.#took.get(b.id) ?? 0));
    Object.assign(this.#state, { activeMutant: activeMutant.id, hitCount: 0, hitLimit });
    const tests = [];
    for (const test of reached) {
      const result = await this.#one(test);
      tests.push(result);
      if (result.status === TestStatus.Failed && !disableBail) break;
    }
    const { hitCount } = this.#state;
    Object.assign(this.#state, { activeMutant: undefined, hitCount: undefined, hitLimit: undefined });
    return toMutantRunResult(
      determineHitLimitReached(hitCount, hitLimit) ?? { status: DryRunStatus.Complete, tests },
    );
  }
}

export const strykerPlugins = [
  declareFactoryPlugin(PluginKind.TestRunner, "in-process", () => new InProcessRunner()),
];
