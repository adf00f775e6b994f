// The SQLite driver is a native module. Where no ready-made file can be fetched it is compiled, which takes a minute or
// two; the result is kept in the user's cache folder and put back after every later install.
import { copyFileSync, existsSync, mkdirSync, readFileSync, renameSync } from "node:fs";
import { homedir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { run, runNode, runNpm, stopRequested } from "./children.mjs";
import { CACHE, ROOT } from "./project.mjs";
import { CommandError, duration, narrated, say } from "./say.mjs";

const PACKAGE = join(ROOT, "node_modules/better-sqlite3");
const BINARY = join(PACKAGE, "build/Release/better_sqlite3.node");

/** @returns {string} the C library that the module links to, with its version: a newer one is not found on an older system */
function libc() {
  if (process.platform !== "linux") return "system";
  // @types/node 20 does not know this switch; without it the report looks up every network interface's name.
  Object.assign(process.report, { excludeNetwork: true });
  const header = /** @type {{ header: { glibcVersionRuntime?: string } }} */ (process.report.getReport())
    .header;
  return header.glibcVersionRuntime ? `glibc${header.glibcVersionRuntime}` : "musl";
}

/** @returns {string} what a build is good for */
export function nativeKey() {
  const { version } = JSON.parse(readFileSync(join(PACKAGE, "package.json"), "utf8"));
  return `better-sqlite3-${version}-abi${process.versions.modules}-${process.platform}-${process.arch}-${libc()}`;
}

/** @returns {string[]} cache folders, the user's first; the project's own where the user has none that can be written */
function cacheFolders() {
  const base = process.env.XDG_CACHE_HOME || join(homedir(), ".cache");
  return [resolve(base, "homewater"), join(CACHE, "native")];
}

/** @returns {Promise<boolean>} whether this Node can open a database with the module as it lies in node_modules */
async function works() {
  if (!existsSync(BINARY)) return false;
  const probe = 'new (require("better-sqlite3"))(":memory:").prepare("select 1").get()';
  return (await runNode(["-e", probe], { cwd: ROOT, capture: true })).code === 0;
}

/** @param {string} from @param {string} to copies by way of a second name, so that no reader sees half a file */
function copyWhole(from, to) {
  mkdirSync(dirname(to), { recursive: true });
  const half = `${to}.${process.pid}`;
  copyFileSync(from, half);
  renameSync(half, to);
}

/** Keeps the working build in the first cache folder that takes it. */
export function keepNativeModule() {
  const refusals = [];
  for (const folder of cacheFolders()) {
    const kept = join(folder, `${nativeKey()}.node`);
    try {
      if (!existsSync(kept)) copyWhole(BINARY, kept);
      return;
    } catch (error) {
      refusals.push(error instanceof Error ? error.message : String(error));
    }
  }
  say(`the compiled SQLite driver could not be kept for the next install: ${refusals.join("; ")}`);
}

/** @returns {Promise<boolean>} whether a kept build was put back and works */
async function restore() {
  for (const folder of cacheFolders()) {
    const kept = join(folder, `${nativeKey()}.node`);
    if (!existsSync(kept)) continue;
    copyWhole(kept, BINARY);
    if (await works()) return true;
  }
  return false;
}

/**
 * Node's own headers, where they lie beside the program: node-gyp otherwise fetches them from the network.
 * @returns {Promise<Record<string, string>>}
 */
async function headerSettings() {
  const prefix = dirname(dirname(process.execPath));
  const header = join(prefix, "include/node/node_version.h");
  if (process.env.npm_config_nodedir || !existsSync(header)) return {};
  const major = /#define NODE_MAJOR_VERSION (\d+)/.exec(readFileSync(header, "utf8"))?.[1];
  if (major !== process.versions.node.split(".")[0]) return {};
  const configured = (await runNpm(["config", "get", "nodedir"], { cwd: ROOT, capture: true })).output.trim();
  return configured === "undefined" || configured === "null" || configured === ""
    ? { npm_config_nodedir: prefix }
    : {};
}

async function missingTools() {
  const missing = [];
  for (const tool of ["python3", "make", "g++"]) {
    const found = await run("sh", ["-c", `command -v ${tool}`], { capture: true });
    if (found.code !== 0) missing.push(tool);
  }
  return missing;
}

async function build() {
  say(
    "preparing the SQLite driver: where no ready-made file can be fetched for this Node it is compiled here,",
  );
  say("which takes one to two minutes. This happens once; the result is kept for later installs.");
  const started = Date.now();
  const env = await headerSettings();
  const { code, output } = await narrated("Compiling better-sqlite3", () =>
    runNpm(["rebuild", "better-sqlite3", "--ignore-scripts=false"], { cwd: ROOT, env, capture: true }),
  );
  if (code === 0 && (await works())) {
    say(`SQLite driver ready after ${duration(Date.now() - started)}`);
    return;
  }
  if (stopRequested()) throw new CommandError("stopped before the SQLite driver was ready", code);
  const missing = await missingTools();
  const remedy =
    missing.length > 0
      ? `These are missing: ${missing.join(", ")}. On Debian or Ubuntu: apt-get install -y python3 make g++`
      : "The compiler's messages are above.";
  process.stderr.write(`${output}\n`);
  throw new CommandError(`the SQLite driver (better-sqlite3) could not be prepared. ${remedy}`);
}

/** Makes sure that the native module is there and works with this Node: as it is, from the cache, or compiled. */
export async function ensureNativeModule() {
  if (!(await works()) && !(await restore())) await build();
  keepNativeModule();
}
