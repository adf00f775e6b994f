// `npm run check`: format and lint, types, imports, dead code. `npm run check -- --fix` lets the formatter write.
import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { bootstrap } from "./bootstrap.mjs";
import { runNode, stopChildrenOnSignals, stopRequested } from "./children.mjs";
import { CACHE, filesBelow, ROOT } from "./project.mjs";
import { duration, runCommand, say } from "./say.mjs";

/** @typedef {{ name: string, work: () => Promise<{ ok: boolean, output: string }> }} Step */
/** @typedef {{ name: string, ok: boolean, milliseconds: number }} StepResult */
/** @typedef {{ finished: Promise<unknown>, routesTyped: Promise<void> }} Building a build of the dashboard that is under way */

const PRODUCT = ["app", "lib", "ingest"];

/** @param {string} path below node_modules @param {string[]} args */
async function tool(path, args) {
  const { code, output } = await runNode([join(ROOT, "node_modules", path), ...args], {
    cwd: ROOT,
    env: { NEXT_TELEMETRY_DISABLED: "1" },
    capture: true,
  });
  return { ok: code === 0, output };
}

/**
 * @typedef {{ source: string, dependencies: unknown[] }} CruisedModule
 * @typedef {{ from: string, to: string, rule: { name: string, severity: string }, cycle?: { name: string }[] }} Violation
 */

async function checkImports() {
  mkdirSync(CACHE, { recursive: true });
  const file = join(CACHE, "imports.json");
  const config = join(ROOT, ".dependency-cruiser.cjs");
  const args = [...PRODUCT, "--config", config, "--output-type", "json", "--output-to", file];
  const ran = await tool("dependency-cruiser/bin/dependency-cruise.mjs", args);
  if (!ran.ok) return ran;
  /** @type {{ modules: CruisedModule[], summary: { violations: Violation[] } }} */
  const result = JSON.parse(readFileSync(file, "utf8"));
  const lines = result.summary.violations.map(({ rule, from, to, cycle }) => {
    const way = cycle ? [from, ...cycle.map((step) => step.name)].join(" -> ") : `${from} -> ${to}`;
    return `${rule.name}: ${way}`;
  });
  // A checker that does not understand the sources reports "no violations" over no modules: count what it saw.
  const isSource = (/** @type {string} */ path) => /\.tsx?$/.test(path) && /^(app|lib|ingest)\//.test(path);
  const seen = new Set(result.modules.map((module) => module.source).filter(isSource));
  const missed = filesBelow(PRODUCT).filter((path) => isSource(path) && !seen.has(path));
  if (seen.size === 0) lines.push("no modules were examined");
  lines.push(...missed.map((path) => `not examined: ${path}`));
  return { ok: lines.length === 0, output: lines.join("\n") };
}

/**
 * @param {boolean} fix
 * @param {Building | null} building
 * @returns {Step[][]} groups one after another; within a group order does not matter
 */
function steps(fix, building) {
  const biome = ["check", ...(fix ? ["--write"] : []), "--error-on-warnings", "--colors=off", "."];
  const knip = [
    "--include",
    "files,exports,dependencies,unlisted,unresolved,duplicates",
    "--no-config-hints",
  ];
  const typegen = async () => {
    // A build clears the folder that they are written to.
    await building?.routesTyped;
    return tool("next/dist/bin/next", ["typegen"]);
  };
  // The tests' project holds the product too: read once, not once for each.
  const tsc = () => tool("typescript/bin/tsc", ["--noEmit", "-p", "tests/tsconfig.json"]);
  return [
    [
      { name: "format and lint", work: () => tool("@biomejs/biome/bin/biome", biome) },
      { name: "route types", work: typegen },
    ],
    [
      { name: "types", work: tsc },
      { name: "imports", work: checkImports },
      { name: "dead code", work: () => tool("knip/bin/knip.js", knip) },
    ],
  ];
}

/** @param {Step} step @returns {Promise<StepResult>} */
async function take(step) {
  const started = Date.now();
  const { ok, output } = await step.work();
  const milliseconds = Date.now() - started;
  if (!ok && !stopRequested()) process.stdout.write(`${output.trimEnd()}\n`);
  say(`check: ${step.name}: ${ok ? "ok" : "FAILED"} (${duration(milliseconds)})`);
  return { name: step.name, ok, milliseconds };
}

/**
 * Runs every step, also after one has failed: two at a time, one while a build keeps the other core busy.
 * @param {boolean} [fix]
 * @param {Building | null} [building]
 * @returns {Promise<StepResult[]>}
 */
export async function check(fix = false, building = null) {
  /** @type {StepResult[]} */
  const results = [];
  for (const group of steps(fix, building)) {
    const waiting = [...group];
    const lane = async () => {
      for (let step = waiting.shift(); step !== undefined && !stopRequested(); step = waiting.shift()) {
        results.push(await take(step));
      }
    };
    const lanes = [lane()];
    const second = () => lanes.push(lane());
    if (building) void building.finished.then(second, second);
    else second();
    for (let one = lanes.shift(); one !== undefined; one = lanes.shift()) await one;
  }
  return results;
}

const HELP = `Usage: npm run check [-- --fix]

Checks format, lint, types, imports and dead code.

  --fix              let the formatter write what it can

Example:
  npm run check -- --fix`;

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await runCommand(async () => {
    stopChildrenOnSignals();
    await bootstrap("full");
    const started = Date.now();
    const results = await check(process.argv.includes("--fix"));
    const failed = results.filter((result) => !result.ok);
    say(
      `check: ${results.length - failed.length} passed, ${failed.length} failed (${duration(Date.now() - started)})`,
    );
    return failed.length === 0 && !stopRequested() ? 0 : 1;
  }, HELP);
}
