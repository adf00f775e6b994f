// Builds the dashboard when its sources changed since the last build.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { endedBySignal, runNode } from "./children.mjs";
import { oneAtATime } from "./one-at-a-time.mjs";
import { CACHE, digest, filesBelow, ROOT } from "./project.mjs";
import { duration, say } from "./say.mjs";

const BUILD_ID = join(ROOT, ".next/BUILD_ID");
const STAMP = join(ROOT, ".next/homewater-sources");

/** @returns {string} digest of everything that the build reads */
function sources() {
  const single = ["next.config.ts", "proxy.ts", "package-lock.json", "tsconfig.json"].filter((file) =>
    existsSync(join(ROOT, file)),
  );
  return digest([...filesBelow(["app", "lib", "public"]), ...single]);
}

/** @returns {boolean} whether .next holds a finished build of the sources as they are now */
export function isDashboardBuilt() {
  return existsSync(BUILD_ID) && existsSync(STAMP) && readFileSync(STAMP, "utf8") === sources();
}

/** What Next says when it has cleared .next and written the types of the routes; they stay as they are from then on. */
const ROUTES_TYPED = "Creating an optimized production build";

/** @typedef {{ ok: boolean, built: boolean, milliseconds: number, problem: string }} Built */

/**
 * Builds unless the build is current. Output is shown only when it fails.
 * @param {() => void} [whenRoutesTyped] called, perhaps more than once, when the types of the routes are there to be read
 * @returns {Promise<Built>}
 */
export async function buildDashboard(whenRoutesTyped) {
  if (isDashboardBuilt()) return { ok: true, built: false, milliseconds: 0, problem: "" };
  return oneAtATime(join(CACHE, "build.lock"), "the dashboard build", async () => {
    if (isDashboardBuilt()) return { ok: true, built: false, milliseconds: 0, problem: "" };
    const started = Date.now();
    say("building the dashboard (only after its sources changed) ...");
    // Taken before the build: a file saved while it runs makes the next command build again.
    const stamp = sources();
    const { code, output } = await runNode([join(ROOT, "node_modules/next/dist/bin/next"), "build"], {
      cwd: ROOT,
      env: { NODE_ENV: "production", NEXT_TELEMETRY_DISABLED: "1" },
      capture: true,
      heard: (said) => {
        if (said.includes(ROUTES_TYPED)) whenRoutesTyped?.();
      },
    });
    const milliseconds = Date.now() - started;
    if (code === 0) {
      writeFileSync(STAMP, stamp);
      say(`dashboard built in ${duration(milliseconds)}`);
      return { ok: true, built: true, milliseconds, problem: "" };
    }
    if (endedBySignal(code))
      return { ok: false, built: false, milliseconds, problem: "stopped before it was finished" };
    process.stderr.write(`${output}\n`);
    return { ok: false, built: false, milliseconds, problem: `next build ended with exit code ${code}` };
  });
}
