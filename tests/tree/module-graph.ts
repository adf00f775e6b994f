/** The imports of the product as dependency-cruiser sees them, for tests that look at folders rather than files. */
import { execFileSync } from "node:child_process";
import { dirname, join, resolve } from "node:path";

const root = resolve(import.meta.dirname, "../..");

export interface Arrow {
  readonly from: string;
  readonly to: string;
}

/** Every import between two files of app, lib and ingest; type-only ones count. Style sheets are left out. */
export function readArrows(): Arrow[] {
  const program = join(root, "node_modules/dependency-cruiser/bin/dependency-cruise.mjs");
  const output = execFileSync(
    process.execPath,
    [
      program,
      "app",
      "lib",
      "ingest",
      "proxy.ts",
      "--config",
      ".dependency-cruiser.cjs",
      "--output-type",
      "json",
    ],
    { cwd: root, encoding: "utf8", maxBuffer: 2 ** 28 },
  );
  const { modules } = JSON.parse(output) as {
    modules: { source: string; dependencies: { resolved: string; couldNotResolve: boolean }[] }[];
  };
  const known = new Set(modules.map(({ source }) => source));
  const isOurs = (path: string) => known.has(path) && /^(app|lib|ingest)\//.test(path);
  return modules.flatMap(({ source, dependencies }) =>
    dependencies
      .filter(({ resolved }) => isOurs(source) && isOurs(resolved))
      .map(({ resolved }) => ({ from: source, to: resolved })),
  );
}

/** Folders that need each other, directly or by way of others; each ring in alphabetical order. */
export function folderRings(arrows: readonly Arrow[]): string[][] {
  const next = new Map<string, Set<string>>();
  for (const { from, to } of arrows) {
    const [a, b] = [dirname(from), dirname(to)];
    if (a !== b) next.set(a, (next.get(a) ?? new Set()).add(b));
  }
  const reached = (start: string): Set<string> => {
    const seen = new Set<string>();
    const waiting = [...(next.get(start) ?? [])];
    for (let folder = waiting.pop(); folder !== undefined; folder = waiting.pop()) {
      if (seen.has(folder)) continue;
      seen.add(folder);
      waiting.push(...(next.get(folder) ?? []));
    }
    return seen;
  };
  const reaches = new Map([...next.keys()].map((folder) => [folder, reached(folder)]));
  const rings = new Map<string, string[]>();
  for (const [folder, seen] of reaches) {
    if (!seen.has(folder)) continue;
    const ring = [...seen].filter((other) => reaches.get(other)?.has(folder)).sort();
    rings.set(ring.join(" "), ring);
  }
  return [...rings.values()];
}

/** Everything that leads to a file, the file included. */
export function usersOf(arrows: readonly Arrow[]): (path: string) => ReadonlySet<string> {
  const back = new Map<string, string[]>();
  for (const { from, to } of arrows) back.set(to, [...(back.get(to) ?? []), from]);
  return (path) => {
    const seen = new Set<string>();
    const waiting = [path];
    for (let file = waiting.pop(); file !== undefined; file = waiting.pop()) {
      if (seen.has(file)) continue;
      seen.add(file);
      waiting.push(...(back.get(file) ?? []));
    }
    return seen;
  };
}
