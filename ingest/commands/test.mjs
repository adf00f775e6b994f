// `npm test`: installs what is missing, builds the dashboard while it checks, and runs the tests. Arguments go to vitest, as in
// `npm test -- tests/core`. The last line counts: "N passed, N failed", with ", N skipped" where tests were skipped.
import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { bootstrap } from "./bootstrap.mjs";
import { check } from "./check.mjs";
import { runNode, stopAll, stopChildrenOnSignals, stopRequested } from "./children.mjs";
import { buildDashboard } from "./dashboard-build.mjs";
import { CACHE, ROOT } from "./project.mjs";
import { duration, runCommand, say } from "./say.mjs";

/** @typedef {import("../../tests/helpers/run-record-reporter.ts").RunRecord} RunRecord */

const RECORD = join(CACHE, "test-run.json");

/** @returns {Promise<RunRecord | null>} null when vitest ended before it could write its record */
async function runTests() {
  mkdirSync(CACHE, { recursive: true });
  rmSync(RECORD, { force: true });
  const reporters = [
    "--reporter=default",
    `--reporter=${join(ROOT, "tests/helpers/run-record-reporter.ts")}`,
  ];
  const args = [join(ROOT, "node_modules/vitest/vitest.mjs"), "run", ...reporters, ...process.argv.slice(2)];
  const env = { HOMEWATER_TEST_RECORD: RECORD, NEXT_TELEMETRY_DISABLED: "1" };
  const { code } = await runNode(args, { cwd: ROOT, env });
  if (!existsSync(RECORD)) return null;
  /** @type {RunRecord} */
  const record = JSON.parse(readFileSync(RECORD, "utf8"));
  const allGood = record.files.every((file) => file.failed === 0) && record.unhandledErrors === 0;
  // Something that vitest holds against the run and the record does not show, such as a process that would not end.
  return allGood && code !== 0 ? { ...record, unhandledErrors: 1 } : record;
}

/** @param {RunRecord} record prints time and counts per folder, then every skipped test with its reason */
function printFolders(record) {
  /** @type {Map<string, { milliseconds: number, passed: number, failed: number, skipped: number }>} */
  const folders = new Map();
  for (const file of record.files) {
    const folder = file.path.split("/").slice(0, 2).join("/");
    const sum = folders.get(folder) ?? { milliseconds: 0, passed: 0, failed: 0, skipped: 0 };
    sum.milliseconds += file.milliseconds;
    sum.passed += file.passed;
    sum.failed += file.failed;
    sum.skipped += file.skipped.length;
    folders.set(folder, sum);
  }
  say("time per folder (several files run at a time, so the sum is more than the time waited):");
  for (const [folder, sum] of [...folders].sort(([a], [b]) => a.localeCompare(b))) {
    const counts = `${sum.passed} passed, ${sum.failed} failed, ${sum.skipped} skipped`;
    say(`  ${folder.padEnd(24)} ${duration(sum.milliseconds).padStart(12)}  ${counts}`);
  }
  for (const file of record.files) {
    for (const { name, reason } of file.skipped) say(`skipped: ${file.path} > ${name}: ${reason}`);
  }
}

/** @param {RunRecord} record prints how many figures of publications and reference programs were held, and how closely */
function printPublished(record) {
  const tables = record.files.flatMap((file) => file.published);
  if (tables.length === 0) return;
  const values = tables.reduce((sum, table) => sum + table.values, 0);
  const worst = tables.reduce((a, b) => (b.worst > a.worst ? b : a));
  const error = `${worst.worst.toPrecision(2)} of its tolerance (${worst.table}: ${worst.worstAt})`;
  say(`published values: ${values} held in ${tables.length} tables, largest error ${error}`);
}

function startBuild() {
  let routesAreTyped = () => {};
  /** @type {Promise<void>} */
  const routesTyped = new Promise((resolve) => {
    routesAreTyped = resolve;
  });
  // A build that is current, or fails, has nothing more to write either.
  return { routesTyped, finished: buildDashboard(routesAreTyped).finally(routesAreTyped) };
}

/** The build needs the packages but no database: it runs while the native module is still being compiled. */
async function installAndStartBuild() {
  /** @type {ReturnType<typeof startBuild> | undefined} */
  let building;
  try {
    await bootstrap("full", () => {
      building = startBuild();
    });
  } catch (error) {
    stopAll("SIGTERM");
    await building?.finished;
    throw error;
  }
  return building ?? startBuild();
}

const HELP = `Usage: npm test [-- FILTER ...]

Installs what is missing, builds the dashboard, checks the sources and runs every test, or only those whose file path
contains a filter. The last line says "N passed, N failed", with ", N skipped" if tests were skipped. Other arguments
go to vitest.

Example:
  npm test -- tests/core/evaluate`;

await runCommand(async () => {
  stopChildrenOnSignals();
  const building = await installAndStartBuild();
  const started = Date.now();
  // A build keeps little more than one core busy; the checks take the other.
  const [steps, build] = await Promise.all([check(false, building), building.finished]);
  if (build.built || !build.ok) {
    steps.push({ name: "dashboard build", ok: build.ok, milliseconds: build.milliseconds });
    if (!build.ok) say(`dashboard build: FAILED: ${build.problem}`);
  }
  const record = stopRequested() ? null : await runTests();
  if (record) {
    printFolders(record);
    printPublished(record);
  }
  for (const step of steps) if (!step.ok) say(`failed: check step "${step.name}"`);
  for (const file of record?.files ?? []) if (file.failed > 0) say(`failed: ${file.path} (${file.failed})`);
  let passed = steps.filter((step) => step.ok).length;
  let failed = steps.length - passed;
  let testsRun = 0;
  let skipped = 0;
  for (const file of record?.files ?? []) {
    testsRun += file.passed + file.failed;
    passed += file.passed;
    failed += file.failed;
    skipped += file.skipped.length;
  }
  if (testsRun === 0) {
    say(record ? "failed: no test ran" : "failed: the test run ended before its record was written");
    failed += 1;
  } else if (record && record.unhandledErrors > 0) {
    say("failed: errors outside any test, shown above");
    failed += record.unhandledErrors;
  }
  say(`checks and tests took ${duration(Date.now() - started)}`);
  process.stdout.write(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}\n`);
  return failed === 0 ? 0 : 1;
}, HELP);
