// What `demo` and `start` have in common: install, then run the command's own program while the dashboard is being built.
import { mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { bootstrap } from "./bootstrap.mjs";
import { runNode, stopAll, stopChildrenOnSignals, stopRequested } from "./children.mjs";
import { buildDashboard } from "./dashboard-build.mjs";
import { CACHE, ROOT } from "./project.mjs";
import { say } from "./say.mjs";

/**
 * Runs `ingest/commands/<program>` with the arguments of this command. The program starts at once and finds in
 * HOMEWATER_BUILD_STAMP_FILE the path of a file that appears when the build has ended: "ok", or "failed: " and why. It
 * must not start the dashboard before.
 * @param {string} program a TypeScript file beside this one
 * @returns {Promise<number>} the program's exit code
 */
export async function runBesideBuild(program) {
  stopChildrenOnSignals();
  mkdirSync(CACHE, { recursive: true });
  const outcome = join(CACHE, `build-outcome-${process.pid}`);
  const report = (/** @type {string} */ text) => {
    writeFileSync(`${outcome}.part`, text);
    renameSync(`${outcome}.part`, outcome);
  };
  rmSync(outcome, { force: true });
  /** @type {Promise<void> | undefined} */
  let building;
  const startBuild = () => {
    building ??= buildDashboard().then(
      (build) => report(build.ok ? "ok" : `failed: ${build.problem}`),
      (error) => report(`failed: ${error instanceof Error ? error.message : String(error)}`),
    );
  };
  try {
    await bootstrap("lean", startBuild);
    startBuild();
    const args = ["--import", "tsx", join(ROOT, "ingest/commands", program), ...process.argv.slice(2)];
    const env = { HOMEWATER_BUILD_STAMP_FILE: outcome, NEXT_TELEMETRY_DISABLED: "1" };
    const { code } = await runNode(args, { cwd: ROOT, env });
    if (code !== 0 && !stopRequested()) say(`${program} ended with exit code ${code}`);
    return code;
  } finally {
    stopAll("SIGTERM");
    await building;
    rmSync(outcome, { force: true });
  }
}
