import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const root = resolve(import.meta.dirname, "../..");

/** One file per rule that breaks it, and what it imports. */
const planted: { rule: string; from: string; imports: string }[] = [
  {
    rule: "no-cycles",
    from: "lib/core/time/cycle-a.ts",
    imports: 'import { b } from "./cycle-b.ts"; export const a = () => b;',
  },
  {
    rule: "no-cycles",
    from: "lib/core/time/type-cycle-a.ts",
    imports: 'import type { B } from "./type-cycle-b.ts"; export type A = B[];',
  },
  { rule: "resolvable", from: "lib/core/time/lost.ts", imports: 'import "./not-there.ts";' },
  { rule: "units-import-nothing", from: "lib/core/units/early.ts", imports: 'import "../time/fine.ts";' },
  { rule: "units-import-nothing", from: "lib/core/units/validated.ts", imports: 'import "zod";' },
  { rule: "core-is-pure", from: "lib/core/bench/clock.ts", imports: 'import "node:fs";' },
  { rule: "core-is-pure", from: "lib/core/bench/table.ts", imports: 'import "papaparse";' },
  {
    rule: "core-is-pure",
    from: "lib/core/bench/stored.ts",
    imports: 'import type {} from "../../store/port.ts";',
  },
  {
    rule: "contract-speaks-core",
    from: "lib/contract/asks.ts",
    imports: 'import type {} from "../services/fine.ts";',
  },
  { rule: "core-is-pure", from: "lib/core/bench/promised.ts", imports: 'import "#contract/fine.ts";' },
  { rule: "ports-speak-core", from: "lib/notify/port.ts", imports: 'import type {} from "./mail.ts";' },
  {
    rule: "services-use-ports",
    from: "lib/services/read-direct.ts",
    imports: 'import "../store/sqlite.ts";',
  },
  {
    rule: "services-use-ports",
    from: "lib/services/read-settings.ts",
    imports: 'import "../config/env.ts";',
  },
  { rule: "services-have-no-drivers", from: "lib/services/publish.ts", imports: 'import "mqtt";' },
  { rule: "services-do-no-io", from: "lib/services/write-file.ts", imports: 'import "node:fs/promises";' },
  {
    rule: "adapters-know-the-core",
    from: "lib/store/asks-service.ts",
    imports: 'import "../services/fine.ts";',
  },
  { rule: "adapters-know-the-core", from: "lib/notify/looks-up.ts", imports: 'import "../store/sqlite.ts";' },
  { rule: "config-below-edges", from: "lib/config/starts.ts", imports: 'import "../../ingest/main.ts";' },
  { rule: "config-calls-no-service", from: "lib/config/calls.ts", imports: 'import "../services/fine.ts";' },
  {
    rule: "browser-parts-import-core",
    from: "app/_components/reads.tsx",
    imports: 'import "../../lib/services/fine.ts";',
  },
  {
    rule: "browser-parts-import-core",
    from: "app/_components/session.tsx",
    imports: 'import type {} from "../_server/deps.ts";',
  },
  {
    rule: "browser-parts-import-core",
    from: "app/overnight/_parts/reads.tsx",
    imports: 'import "#services/fine.ts";',
  },
  {
    rule: "shared-parts-know-no-page",
    from: "app/_components/leans.tsx",
    imports: 'import "../overnight/_parts/fine.tsx";',
  },
  {
    rule: "parts-stay-with-their-page",
    from: "app/bench/page.tsx",
    imports: 'import "#app/overnight/_parts/fine.tsx";',
  },
  {
    rule: "browser-parts-have-no-drivers",
    from: "app/_components/driver.tsx",
    imports: 'import "better-sqlite3";',
  },
  {
    rule: "browser-parts-have-no-builtins",
    from: "app/_components/builtin.tsx",
    imports: 'import "node:path";',
  },
  {
    rule: "edges-call-services",
    from: "app/overnight/page.tsx",
    imports: 'import "../../lib/store/sqlite.ts";',
  },
  {
    rule: "edges-call-services",
    from: "ingest/outbox.ts",
    imports: 'import type {} from "../lib/notify/mail.ts";',
  },
  { rule: "edges-stay-apart", from: "ingest/draws.ts", imports: 'import "../app/_components/fine.tsx";' },
  { rule: "edges-stay-apart", from: "app/accepts/page.tsx", imports: 'import "../../ingest/main.ts";' },
  { rule: "edges-have-no-store-drivers", from: "ingest/asks-table.ts", imports: 'import "drizzle-orm";' },
  {
    rule: "edges-have-no-store-drivers",
    from: "app/asks-pool/page.tsx",
    imports: 'import type {} from "pg";',
  },
  { rule: "server-only-stays-in-app", from: "lib/services/server.ts", imports: 'import "server-only";' },
  {
    rule: "product-knows-no-tests",
    from: "lib/core/bench/peeks.ts",
    imports: 'import "../../../tests/helpers/fine.ts";',
  },
  { rule: "product-knows-no-tests", from: "ingest/loads.ts", imports: 'import "../fixtures/fine.ts";' },
  { rule: "product-needs-no-tools", from: "ingest/tested.ts", imports: 'import "fast-check";' },
  { rule: "commands-start-bare", from: "ingest/commands/eager.mjs", imports: 'import "zod";' },
  { rule: "commands-start-bare", from: "ingest/commands/typed.mjs", imports: 'import "../main.ts";' },
];

/** What the rules allow: no report may name one of these as the importing file. */
const allowed: Record<string, string> = {
  "lib/core/units/fine.ts": "export const unit = 1;",
  "lib/core/time/fine.ts": 'import "../units/fine.ts"; import "zod"; import "temporal-polyfill";',
  "lib/core/time/cycle-b.ts": 'import { a } from "./cycle-a.ts"; export const b = () => a;',
  "lib/core/time/type-cycle-b.ts": 'import type { A } from "./type-cycle-a.ts"; export type B = A[];',
  "lib/store/port.ts": 'import type {} from "../core/time/fine.ts"; export interface Store {}',
  "lib/store/sqlite.ts":
    'import "./port.ts"; import "better-sqlite3"; import "drizzle-orm"; import "node:fs";',
  "lib/notify/mail.ts": 'import "../core/time/fine.ts"; import "node:net";',
  "lib/auth/port.ts": "export interface People {}",
  "lib/contract/fine.ts": 'import "zod"; import "#core/time/fine.ts";',
  "lib/services/fine.ts":
    'import type {} from "../store/port.ts"; import "../core/time/fine.ts"; import "zod"; import "node:crypto"; import "#contract/fine.ts";',
  "lib/config/env.ts": 'import "zod"; import "node:fs";',
  "lib/config/open.ts":
    'import "../store/sqlite.ts"; import "./env.ts"; import type {} from "../services/fine.ts";',
  "app/_components/fine.tsx":
    'import "react"; import "uplot"; import "../../lib/core/time/fine.ts"; import "#contract/fine.ts";',
  "app/overnight/_parts/fine.tsx": 'import "../../_components/fine.tsx"; import "#contract/fine.ts";',
  "app/overnight/fine.tsx": 'import "./_parts/fine.tsx";',
  "app/parts/page.tsx": 'import "../overnight/_parts/fine.tsx";',
  "app/_server/deps.ts": 'import "server-only"; import "#config/open.ts";',
  "app/page.tsx":
    'import "./_components/fine.tsx"; import "./_server/deps.ts"; import "../lib/services/fine.ts"; import "next/headers";',
  "ingest/main.ts":
    'import "../lib/services/fine.ts"; import "../lib/config/open.ts"; import "mqtt"; import "aedes"; import "pino"; import "node:fs";',
  "ingest/commands/fine.mjs": 'import "node:fs"; import "./also-fine.mjs";',
  "ingest/commands/also-fine.mjs": 'import "node:path";',
  "tests/helpers/fine.ts": "export const helper = 1;",
  "fixtures/fine.ts": "export const data = 1;",
};

let tree: string;
let reported: { rule: string; from: string }[];

beforeAll(() => {
  tree = mkdtempSync(join(tmpdir(), "homewater-imports-"));
  const files = { ...allowed, ...Object.fromEntries(planted.map(({ from, imports }) => [from, imports])) };
  for (const [path, content] of Object.entries(files)) {
    mkdirSync(dirname(join(tree, path)), { recursive: true });
    writeFileSync(join(tree, path), `${content}\nexport {};\n`);
  }
  for (const file of [".dependency-cruiser.cjs", "tsconfig.json", "package.json"])
    cpSync(join(root, file), join(tree, file));
  symlinkSync(join(root, "node_modules"), join(tree, "node_modules"));
  const program = join(root, "node_modules/dependency-cruiser/bin/dependency-cruise.mjs");
  const output = execFileSync(
    process.execPath,
    [program, "app", "lib", "ingest", "--config", ".dependency-cruiser.cjs", "--output-type", "json"],
    { cwd: tree, encoding: "utf8", maxBuffer: 2 ** 26 },
  );
  const result = JSON.parse(output) as {
    summary: { violations: { from: string; rule: { name: string } }[] };
  };
  reported = result.summary.violations.map(({ from, rule }) => ({ rule: rule.name, from }));
});

afterAll(() => rmSync(tree, { recursive: true, force: true }));

describe("the rules of imports", () => {
  it.each(planted)("$rule reports $from", ({ rule, from }) => {
    expect(reported).toContainEqual({ rule, from });
  });

  it("report nothing about imports that are allowed", () => {
    const innocent = (from: string) => from in allowed && !from.endsWith("cycle-b.ts");
    expect(reported.filter(({ from }) => innocent(from))).toEqual([]);
  });

  it("have a planted violation each", () => {
    const config = createRequire(import.meta.url)(join(root, ".dependency-cruiser.cjs")) as {
      forbidden: { name: string; severity: string }[];
    };
    const names = config.forbidden.map(({ name }) => name);
    expect([...new Set(planted.map(({ rule }) => rule))].sort()).toEqual([...names].sort());
    expect(config.forbidden.every(({ severity }) => severity === "error")).toBe(true);
  });
});
