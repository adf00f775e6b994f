import { execFileSync } from "node:child_process";
import {
  accessSync,
  constants,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
} from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { delimiter, dirname, join } from "node:path";
import { describe, expect, it, type TestContext } from "vitest";

/** A program of the machine that some tests need and a plain install does not bring. */
export type SystemPart = "mosquitto" | "chromium" | "postgresql";

const HOW_TO_GET: Record<SystemPart, string> = {
  mosquitto: "the mosquitto broker is not installed (Debian, Ubuntu: apt-get install mosquitto)",
  chromium: "no Chromium was found that starts (Debian, Ubuntu: apt-get install chromium)",
  postgresql:
    "no PostgreSQL server with pg_dump and pg_restore beside it was found (Debian, Ubuntu: apt-get install postgresql)",
};

/** Why a test that needs the part is skipped, and what would let it run. */
export function skipReason(part: SystemPart): string {
  return HOW_TO_GET[part];
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    // Not there, or not for this user: either way not usable.
    return false;
  }
}

function onPath(names: readonly string[]): string | null {
  // Debian keeps brokers in /usr/sbin, which an ordinary user's PATH leaves out.
  const folders = [
    ...(process.env.PATH ?? "").split(delimiter),
    "/usr/sbin",
    "/usr/local/sbin",
    "/opt/homebrew/sbin",
  ];
  for (const name of names) {
    for (const folder of folders) {
      if (folder && isExecutable(join(folder, name))) return join(folder, name);
    }
  }
  return null;
}

/** The mosquitto broker's program, or null. */
export function mosquittoPath(): string | null {
  return onPath(["mosquitto"]);
}

function starts(program: string): boolean {
  try {
    execFileSync(program, ["--version"], { stdio: "ignore", timeout: 20_000 });
    return true;
  } catch {
    // Usually a shared library that this machine lacks; the skip reason says what to install.
    return false;
  }
}

/** The Chromium that comes as an npm package, unpacked once per version and user into the temporary folder. */
function unpackedChromium(): string | null {
  if (process.platform !== "linux" || process.arch !== "x64") return null;
  const require = createRequire(import.meta.url);
  const manifest = join(dirname(require.resolve("@sparticuz/chromium")), "../../package.json");
  const { version } = JSON.parse(readFileSync(manifest, "utf8")) as { version: string };
  const home = join(tmpdir(), `homewater-chromium-${version}-${process.getuid?.() ?? "user"}`);
  if (!existsSync(home)) {
    // The package unpacks into the temporary folder of its process; a fresh one, renamed when complete, so that two
    // test files at once never start a half-written program.
    const fresh = mkdtempSync(`${home}-`);
    mkdirSync(fresh, { recursive: true });
    const script = 'import chromium from "@sparticuz/chromium"; await chromium.executablePath();';
    execFileSync(process.execPath, ["--input-type=module", "--eval", script], {
      cwd: dirname(manifest),
      env: { ...process.env, TMPDIR: fresh },
    });
    try {
      renameSync(fresh, home);
    } catch (error) {
      // Another test file was first: its copy is as good.
      rmSync(fresh, { recursive: true, force: true });
      if (!existsSync(home)) throw error;
    }
  }
  const program = join(home, "chromium");
  return starts(program) ? program : null;
}

let chromium: string | null | undefined;

/** What it is called where. The first is the same browser without its windows: nobody looks at them here, and it needs less of both cores. */
const CHROMIUM_NAMES = [
  "chromium-headless-shell",
  "chromium",
  "chromium-browser",
  "google-chrome-stable",
  "google-chrome",
];

/** A Chromium that starts: the machine's own, or the npm package's; null where there is neither. */
export function chromiumPath(): string | null {
  chromium ??= onPath(CHROMIUM_NAMES) ?? unpackedChromium();
  return chromium;
}

/** Where Debian and its relatives keep each version of PostgreSQL whole; only clients are on the PATH. */
const POSTGRESQL_HOME = "/usr/lib/postgresql";
const POSTGRESQL_PROGRAMS = ["initdb", "postgres", "pg_dump", "pg_restore"];

/** The folder of the newest PostgreSQL with its server and its own tools, or null. The packages of npm bring a server and no tools. */
function postgresqlPath(): string | null {
  if (!existsSync(POSTGRESQL_HOME)) return null;
  const folders = readdirSync(POSTGRESQL_HOME)
    .sort((a, b) => Number(b) - Number(a))
    .map((version) => join(POSTGRESQL_HOME, version, "bin"));
  return folders.find((bin) => POSTGRESQL_PROGRAMS.every((name) => isExecutable(join(bin, name)))) ?? null;
}

function pathOf(part: SystemPart): string | null {
  const find = { mosquitto: mosquittoPath, chromium: chromiumPath, postgresql: postgresqlPath };
  return find[part]();
}

/** In CI every part must be there: a part missing there is a failure of the set-up, not a reason to look away. */
function missingIsFailure(): boolean {
  return process.env.CI !== undefined && process.env.CI !== "" && process.env.CI !== "false";
}

/** For one test: the part's program. Where it is missing the test is skipped with the reason; in CI it fails. */
export function needPart(context: TestContext, part: SystemPart): string {
  const path = pathOf(part);
  if (path !== null) return path;
  if (missingIsFailure()) throw new Error(skipReason(part));
  return context.skip(skipReason(part));
}

/**
 * For a suite: like `describe`, with the part's program handed to the body. Where the part is missing the suite has one
 * test, which is skipped with the reason, or fails in CI.
 */
export function describeWith(part: SystemPart, name: string, body: (path: string) => void): void {
  const path = pathOf(part);
  describe(name, () => {
    if (path !== null) return body(path);
    it("can run on this machine", (context) => {
      if (!missingIsFailure()) context.skip(skipReason(part));
      expect.fail(skipReason(part));
    });
  });
}

/** Options for playwright's `chromium.launch`: quiet, headless, no calls home. */
export function browserLaunchOptions(executablePath: string): {
  executablePath: string;
  headless: true;
  args: string[];
} {
  const args = [
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    // Root and many containers cannot have Chromium's sandbox; the pages under test are our own.
    "--no-sandbox",
  ];
  return { executablePath, headless: true, args };
}
