import { readdirSync, readFileSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import { minVersion, satisfies } from "semver";
import { describe, expect, it } from "vitest";

const root = resolve(import.meta.dirname, "../..");
const read = (path: string) => readFileSync(join(root, path), "utf8");

/** Everything at the top of the project, with who asks for it to be there. */
const TOP_LEVEL = new Map([
  ["README.md", "readers"],
  ["DEVELOPERS.md", "developers"],
  ["LICENSE", "the licence"],
  ["package.json", "npm"],
  ["package-lock.json", "npm"],
  ["tsconfig.json", "TypeScript, Next"],
  ["next.config.ts", "Next"],
  ["proxy.ts", "Next looks for it beside app"],
  ["vitest.config.ts", "vitest"],
  ["biome.jsonc", "Biome"],
  ["knip.jsonc", "knip"],
  [".dependency-cruiser.cjs", "dependency-cruiser"],
  ["lefthook.yml", "lefthook"],
  [".npmrc", "npm"],
  [".gitignore", "git"],
  [".git", "git"],
  [".ci", "the build server"],
  ["app", "the dashboard"],
  ["lib", "the product's middle"],
  ["ingest", "the processes beside the dashboard"],
  ["tests", "tests"],
  ["fixtures", "data for commands and tests"],
]);

/** Files that are one table of data, which no split would make easier to read. */
const TABLES = new Set<string>(["lib/core/incidents/failures.ts"]);

const LONGEST_FILE = 500;

function sources(folder: string): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && /\.(ts|tsx|mjs|cjs)$/.test(entry.name))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)))
    .filter((path) => !path.includes("node_modules/"));
}

const everySource = ["app", "lib", "ingest", "tests"].flatMap(sources);

describe("the tree", () => {
  it("has nothing at the top that is not named here", () => {
    const ignored = new Set(
      read(".gitignore")
        .split("\n")
        .map((line) => line.replaceAll("/", "").trim())
        .filter(Boolean),
    );
    const extra = readdirSync(root).filter((name) => !TOP_LEVEL.has(name) && !ignored.has(name));
    expect(extra.filter((name) => !name.endsWith(".tsbuildinfo"))).toEqual([]);
  });

  it(`has no source file of more than ${LONGEST_FILE} lines that is not a table of data`, () => {
    expect(everySource.length).toBeGreaterThan(20);
    const long = everySource
      .map((path) => ({ path, lines: read(path).trimEnd().split("\n").length }))
      .filter(({ path, lines }) => lines > LONGEST_FILE && !TABLES.has(path));
    expect(long).toEqual([]);
  });

  it("names only tables that exist", () => {
    expect([...TABLES].filter((path) => !everySource.includes(path))).toEqual([]);
  });

  it("has no file in the product named for being a leftover", () => {
    const vague = /(^|[/-])(utils?|helpers?|managers?|misc|common|stuff)([./-]|$)/;
    expect(everySource.filter((path) => !path.startsWith("tests/") && vague.test(path))).toEqual([]);
  });

  it("states no path of the machine it was written on", () => {
    const machine = new RegExp(`(["'\`\\s])/(${["work", "root", "home"].join("|")})/`);
    expect(everySource.filter((path) => machine.test(read(path)))).toEqual([]);
  });
});

interface LockEntry {
  version?: string;
  engines?: { node?: string };
  resolved?: string;
  integrity?: string;
  link?: boolean;
}

describe("the locked packages", () => {
  const { engines, dependencies, devDependencies } = JSON.parse(read("package.json")) as {
    engines: { node: string };
    dependencies: Record<string, string>;
    devDependencies: Record<string, string>;
  };
  const lock = JSON.parse(read("package-lock.json")) as { packages: Record<string, LockEntry> };
  const packages = Object.entries(lock.packages).filter(([place]) => place !== "");

  it("accept the lowest Node that this project accepts", () => {
    const lowest = minVersion(engines.node);
    expect(lowest?.version).toBe("20.19.0");
    expect(packages.length).toBeGreaterThan(100);
    const refusing = packages
      .filter(([, entry]) => entry.engines?.node && !satisfies("20.19.0", entry.engines.node))
      .map(([place, entry]) => `${place}@${entry.version} wants Node ${entry.engines?.node}`);
    expect(refusing).toEqual([]);
  });

  it("are named by exact versions", () => {
    const loose = Object.entries({ ...dependencies, ...devDependencies }).filter(
      ([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version),
    );
    expect(loose).toEqual([]);
  });

  it("are verified by a hash and come from no private address", () => {
    const unverified = packages
      .filter(([, entry]) => !entry.link && !entry.integrity)
      .map(([place]) => place);
    expect(unverified).toEqual([]);
    const elsewhere = packages
      .filter(([, entry]) => entry.resolved && !entry.resolved.startsWith("https://registry.npmjs.org/"))
      .map(([place]) => place);
    expect(elsewhere).toEqual([]);
  });
});
