/**
 * `npm run bench [-- NAME ...] [--readings N] [--scale 0..1] [--data FOLDER] [--json PATH]`: runs the benchmarks in `cases/`, or the named ones, one
 * after another, prints one table and writes the same as JSON. Nothing leaves this machine: all traffic is on the loopback address.
 */
import { mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { cpus, tmpdir, totalmem } from "node:os";
import { dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import type { BenchCase, BenchOptions, BenchRow } from "./bench-row.ts";
import { hasReached, ratioOf, tableOf } from "./table.ts";

const ROOT = join(import.meta.dirname, "../..");
const CASES = join(import.meta.dirname, "cases");

class Refused extends Error {}

function inRange(name: string, text: string, low: number, high: number): number {
  const value = Number(text);
  if (text.trim() !== "" && value >= low && value <= high) return value;
  throw new Refused(`--${name} is ${JSON.stringify(text)}: write a number from ${low} to ${high}`);
}

/** A benchmark is a file in `cases/` that exports its own name and `run`; only those that are asked for are loaded. */
async function casesNamed(names: readonly string[]): Promise<BenchCase[]> {
  const known = readdirSync(CASES)
    .filter((file) => file.endsWith(".ts"))
    .map((file) => file.slice(0, -".ts".length))
    .sort();
  const unknown = names.filter((name) => !known.includes(name));
  if (unknown.length > 0)
    throw new Refused(`There is no benchmark ${unknown.join(", ")}: there are ${known.join(", ")}`);
  const wanted = names.length === 0 ? known : known.filter((name) => names.includes(name));
  return Promise.all(
    wanted.map(async (file) => {
      const one = (await import(pathToFileURL(join(CASES, `${file}.ts`)).href)) as BenchCase;
      if (one.name !== file) throw new Error(`cases/${file}.ts calls itself ${one.name}`);
      return one;
    }),
  );
}

async function main(): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      readings: { type: "string", default: "5000000" },
      scale: { type: "string", default: "1" },
      data: { type: "string" },
      json: { type: "string" },
    },
  });
  const options: BenchOptions = {
    readings: inRange("readings", values.readings, 200_000, 200_000_000),
    scale: inRange("scale", values.scale, 0.001, 1),
    data: values.data ?? null,
    say: (line) => process.stderr.write(`${line}\n`),
  };
  const cases = await casesNamed(positionals);
  const began = new Date();
  const machine = {
    cores: cpus().length,
    processor: cpus()[0]?.model.trim() ?? "not known",
    memoryMiB: Math.round(totalmem() / 1024 ** 2),
    node: process.version,
    platform: `${process.platform} ${process.arch}`,
    databasesIn: tmpdir(),
  };
  const results: { readonly name: string; readonly seconds: number; readonly rows: readonly BenchRow[] }[] =
    [];
  for (const one of cases) {
    const started = performance.now();
    options.say(`${one.name} ...`);
    try {
      const rows = await one.run(options);
      results.push({ name: one.name, seconds: (performance.now() - started) / 1_000, rows });
    } catch (error) {
      // The others are measured all the same; the run counts as failed.
      options.say(`${one.name} failed: ${error instanceof Error ? error.stack : error}`);
      process.exitCode = 1;
    }
  }
  process.stdout.write(
    `${tableOf(results)}\n${machine.cores} cores (${machine.processor}), ${machine.memoryMiB} MiB, node ${machine.node}, ${machine.platform}; ` +
      `medians unless a line says otherwise; a target is for two quiet cores\n`,
  );
  const seconds = results.reduce((sum, one) => sum + one.seconds, 0);
  const file = resolve(
    values.json ?? join(ROOT, "data/bench", `${began.toISOString().slice(0, 19).replaceAll(":", "")}.json`),
  );
  mkdirSync(dirname(file), { recursive: true });
  const rows = results.flatMap(({ name, rows }) =>
    rows.map((row) => ({ name, ...row, ratio: ratioOf(row), reached: hasReached(row) })),
  );
  const { readings, scale } = options;
  writeFileSync(
    file,
    `${JSON.stringify({ began: began.toISOString(), seconds, machine, options: { readings, scale }, rows }, null, 2)}\n`,
  );
  process.stdout.write(`${Math.round(seconds)} s; written to ${file}\n`);
}

for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => process.exit(130));

main().catch((error: unknown) => {
  const isWrongUse =
    error instanceof Refused ||
    (error instanceof Error && "code" in error && String(error.code).startsWith("ERR_PARSE_ARGS"));
  process.stderr.write(`${isWrongUse ? (error as Error).message : (error as Error).stack}\n`);
  process.exit(isWrongUse ? 2 : 1);
});
