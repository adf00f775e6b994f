import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { PIECE_BYTES, pieceText } from "#core/importing/file-piece.ts";
import { readArguments } from "#ingest/import/arguments.ts";
import { openRecorded } from "#ingest/import/file.ts";
import { runImport } from "#ingest/import/run.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { setUpSondes } from "../faults/sonde-site.ts";

const NOW = Date.UTC(2026, 10, 25);
let folder: string;
let out: string[];
let progress: string[];
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "homewater-import-"));
  const store = await openSqlite({ file: join(folder, "homewater.db"), migrate: true });
  await setUpSondes(store, { now: NOW, intervalMs: 600_000, critical: false });
  await store.close();
});
afterEach(() => rm(folder, { recursive: true, force: true }));

async function run(...argv: string[]): Promise<number> {
  out = [];
  progress = [];
  return await runImport(argv, {
    environment: { HOMEWATER_DATA: folder },
    clock: () => NOW,
    user: "ada",
    out: (line) => out.push(line),
    progress: (line) => progress.push(line),
  });
}
async function file(name: string, text: string | Uint8Array): Promise<string> {
  await writeFile(join(folder, name), text);
  return join(folder, name);
}
const said = () => out.join("\n");

// The hour from 01:00 to 02:00 came twice in Europe/London on 2025-10-26 (IANA time zone database).
const LOGGER = `Logger 7;;
Zeit;Temp;pH
26.10.2025 00:45;15,21;8,01
26.10.2025 01:15;15,22;---
26.10.2025 01:45;15,23;8,02
26.10.2025 01:15;59,0;8,03
26.10.2025 02:15;15,25;acht
`;
const READ = [
  "--time",
  "Zeit",
  "--format",
  "dmy",
  "--zone",
  "site",
  "--twice",
  "order",
  "--delimiter",
  ";",
  "--decimal",
  ",",
  "--encoding",
  "windows-1252",
  "--heading",
  "2",
  "--missing",
  "---",
  "--map",
  "Temp=bay/display/temperature:Cel",
  "--map",
  "pH=bay/display/ph",
];

test("a logger's file is looked at first, then stored, listed and withdrawn", async () => {
  const path = await file("logger.csv", LOGGER);
  expect(await run(path, ...READ)).toBe(0);
  expect(said()).toMatch(/to store 8, already there 0, in conflict 0, refused 1/);
  expect(said()).toMatch(
    /Temp -> bay\/display\/temperature: 5 to store, 15.21 to 59 Cel, 2025-10-25T23:45Z to 2025-10-26T02:15Z, 0 empty, 1 NOT BELIEVABLE/,
  );
  expect(said()).toMatch(/refused 1: not a number.*line 7 pH "acht"/);
  expect(said()).toMatch(/Nothing was stored/);
  expect(await run("--list")).toBe(0);
  expect(said()).toBe("Nothing has been imported yet.");

  expect(await run(path, ...READ, "--yes")).toBe(0);
  expect(said()).toMatch(/stored 8, already there 0/);
  const [, id = ""] = /import (\S+); to withdraw it/.exec(said()) ?? [];
  expect(await run(path, ...READ, "--yes")).toBe(0);
  expect(said()).toMatch(/stored 0, already there 8/);
  expect(await run("--withdraw", id, "--reason", "the probe was in air")).toBe(0);
  expect(await run("--list")).toBe(0);
  expect(out).toHaveLength(2);
  expect(said()).toContain(`${id}  logger.csv  by ada (command line)`);
  expect(said()).toContain("withdrawn by ada (command line): the probe was in air");
  const store = await openSqlite({ file: join(folder, "homewater.db"), migrate: false });
  expect((await store.readAudit({ limit: 10 })).map((row) => row.verb)).toEqual([
    "withdraw-import",
    "begin-import",
    "begin-import",
  ]);
  expect((await store.status()).counts.readings).toBe(0);
  await store.close();
});

test("what cannot be is said in one sentence that names it, and nothing is stored", async () => {
  const path = await file("logger.csv", LOGGER);
  const wrong = async (...argv: string[]) => {
    expect(await run(...argv)).toBe(1);
    return progress.join("\n");
  };
  expect(await wrong()).toMatch(/Name one CSV file/);
  expect(await wrong("nowhere.csv", ...READ)).toMatch(/nowhere.csv cannot be read/);
  expect(await wrong(await file("empty.csv", ""), ...READ)).toMatch(/is empty/);
  expect(await wrong(path, "--time", "when", "--map", "Temp=bay/display/temperature")).toMatch(
    /"when" is not a column in this file/,
  );
  expect(await wrong(path, ...READ, "--map", "X=moon/display/ph")).toMatch(/"moon" is not set up here/);
  expect(await wrong(path, ...READ, "--map", "X=reef/roof/ph")).toMatch(
    /"roof" is not a point of reef.*use one of display/s,
  );
  expect(
    await wrong(
      await file("latin.csv", Buffer.from([116, 10, 0xe9, 10])),
      "--time",
      "t",
      "--map",
      "t=bay/display/ph",
    ),
  ).toMatch(/not utf-8 text/);
  expect(
    await wrong(
      await file("quote.csv", `t,"x\n${"1,2\n".repeat(40_000)}`),
      "--time",
      "t",
      "--map",
      "x=bay/display/ph",
    ),
  ).toMatch(/quotation mark/);
  expect(await wrong("--withdraw", "none", "--reason", "because")).toMatch(/no import "none"/);
  expect(await wrong("--withdraw", "none")).toMatch(/--reason is missing/);
});

test("arguments that do not fit together are refused", () => {
  const read =
    (...argv: string[]) =>
    () =>
      readArguments(argv);
  expect(read("f", "--time", "t")).toThrow(/--map is missing/);
  expect(read("f", "--time", "t", "--map", "nonsense")).toThrow(/write COLUMN=/);
  expect(read("f", "--time", "t", "--map", "a=b/c/ph", "--long", "n")).toThrow(/belong together/);
  expect(read("f", "--time", "t", "--map", "a=b/c/ph", "--format", "iso8601")).toThrow(/time format/);
  expect(read("f", "--colour", "red")).toThrow(/--colour is not an option/);
});

test("a long file with quoted line breaks and letters of several bytes comes out as it went in, whatever the pieces", async () => {
  const rows = Array.from({ length: 9_000 }, (_, n) => {
    const at = new Date(Date.UTC(2025, 0, 1) + n * 60_000).toISOString().slice(0, 16).replace("T", " ");
    return `${at},"tank ü\nno ${n % 2}",${(20 + (n % 7) / 10).toFixed(1)},"note, ""quoted"""`;
  });
  const text = `\uFEFFt,what,v,note\r\n${rows.join("\r\n")}\r\n`;
  expect(Buffer.byteLength(text)).toBeGreaterThan(2 * PIECE_BYTES);
  const path = await file("long.csv", text);
  const long = [
    "--time",
    "t",
    "--zone",
    "Z",
    "--long",
    "what",
    "--value",
    "v",
    "--map",
    "tank ü\nno 0=bay/display/temperature",
    "--map",
    "tank ü\nno 1=reef/display/temperature",
  ];
  expect(await run(path, ...long, "--yes")).toBe(0);
  expect(said()).toMatch(/9,000 rows from 2025-01-01T00:00Z to 2025-01-07T05:59Z/);
  expect(said()).toMatch(/stored 9,000, already there 0, in conflict 0, refused 0/);
  expect(said()).toMatch(/4,500 stored, 20 to 20.6 Cel/);
  const recorded = await openRecorded(path);
  expect(recorded.fingerprint).toMatch(new RegExp(`^${Buffer.byteLength(text)}-[0-9a-f]{16}$`));
  await recorded.close();
});

test("a piece ends with a line, and is refused where its bytes are no text", () => {
  const bytes = (text: string) => new TextEncoder().encode(text);
  expect(pieceText(bytes("a\nb\nc"), false, "utf-8")).toBe("a\nb\n");
  expect(pieceText(bytes("a\nb\nc"), true, "utf-8")).toBe("a\nb\nc");
  expect(pieceText(bytes("a\rb\rc"), false, "utf-8")).toBe("a\rb\r");
  expect(pieceText(new Uint8Array([0xe9, 10]), true, "utf-8")).toBeNull();
  expect(pieceText(new Uint8Array([0xe9, 10]), true, "windows-1252")).toBe("é\n");
});
