/** The commands that run over whole tables: sums and check values. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { PassThrough, Readable } from "node:stream";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { SUMS } from "#core/sums/index.ts";
import { runCheckTable } from "#ingest/tables/check-table.ts";
import { runSums } from "#ingest/tables/sums.ts";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "homewater-tables-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function sums(args: readonly string[], text = "") {
  const output = new PassThrough();
  const said: string[] = [];
  const collected = (async () => {
    let all = "";
    for await (const chunk of output) all += String(chunk);
    return all;
  })();
  const code = await runSums(args, { input: Readable.from([text]), output, tell: (line) => said.push(line) });
  output.end();
  const lines = (await collected).trimEnd().split("\n");
  return { code, lines, said };
}

describe("sums over a table", () => {
  test("answer each row in its own unit, pass other columns through and add status and note", async () => {
    const { code, lines, said } = await sums(
      ["salinity"],
      "tank,conductivity,conductivity_unit,temperature,temperature_unit\n" +
        "reef,53.071,,25,\n" +
        'kelp,"42914",uS/cm,59,[degF]\n',
    );
    expect(code).toBe(0);
    expect(lines[0]).toBe(
      "tank,conductivity,conductivity_unit,temperature,temperature_unit,salinity,low,high,status,note",
    );
    const salinity = (line: string | undefined) => Number(line?.split(",")[5]);
    // C(35, 25 °C, 0) is 53.071 mS/cm and C(35, 15 °C) 42.914 by definition of PSS-78 (UNESCO 44); 59 °F is 15 °C.
    expect(salinity(lines[1])).toBeCloseTo(35, 3);
    expect(salinity(lines[2])).toBeCloseTo(35, 2);
    expect(lines[1]?.split(",").slice(0, 2)).toEqual(["reef", "53.071"]);
    expect(said).toEqual(["2 rows: 2 ok, 0 extrapolated, 0 invalid, 0 bad row"]);
  });

  test("one bad row never stops the rest", async () => {
    const rows = ["53,25", "much,25", "", "53", "53,25,9", "-1,25", "90,20", "53,", "53,26"];
    const { code, lines, said } = await sums(["salinity"], `conductivity,temperature\n${rows.join("\n")}\n`);
    expect(code).toBe(0);
    const statuses = lines.slice(1).map((line) => /,(ok|extrapolated|invalid|bad row),/.exec(line)?.[1]);
    expect(statuses).toEqual([
      "ok",
      "bad row",
      "bad row",
      "bad row",
      "invalid",
      "extrapolated",
      "bad row",
      "ok",
    ]);
    expect(lines[2]).toContain('conductivity ""much"" is not a number');
    expect(lines[7]).toContain("temperature is missing");
    expect(said[0]).toBe("8 rows: 2 ok, 1 extrapolated, 1 invalid, 4 bad row");
  });

  test("a name that the table has already is not written over, and formulas are defused", async () => {
    const { lines } = await sums(
      ["conductivity"],
      "salinity,temperature,conductivity,note\n35,25,53,=1+1\n35,-1,,−\n",
    );
    expect(lines[0]).toBe(
      "salinity,temperature,conductivity,note,result_conductivity,low,high,status,result_note",
    );
    expect(lines[1]).toMatch(/^35,25,53,"'=1\+1",53\.07\d*,,,ok,$/);
    expect(lines[2]).toMatch(/^35,-1,/);
  });

  test("rows by the thousand flow through without being held", async () => {
    const rows = 20_000;
    async function* source() {
      yield "conductivity,temperature\n";
      for (let i = 0; i < rows; i += 1000)
        yield Array.from({ length: 1000 }, (_, j) => `${40 + ((i + j) % 100) / 10},20\n`).join("");
    }
    const output = new PassThrough({ highWaterMark: 1024 });
    let [lines, mostWaiting] = [0, 0];
    const reading = (async () => {
      for await (const chunk of output) {
        mostWaiting = Math.max(mostWaiting, output.writableLength);
        lines += String(chunk).split("\n").length - 1;
      }
    })();
    await runSums(["salinity"], { input: Readable.from(source()), output, tell: () => undefined });
    output.end();
    await reading;
    expect(lines).toBe(rows + 1);
    expect(mostWaiting).toBeLessThan(16 * 1024);
  });

  test("helps: every sum lists its columns, and a table without them is refused by name", async () => {
    const list = await sums(["--help"]);
    for (const sum of SUMS) {
      expect(list.lines.join("\n")).toContain(sum.name);
      const { code, lines } = await sums([sum.name, "--help"]);
      expect(code).toBe(0);
      for (const field of sum.fields) expect(lines.join("\n")).toContain(`  ${field.name} `);
      for (const output of sum.outputs) expect(lines.join("\n")).toContain(output.name);
    }
    const refused = await sums(["salinity"], "conductivity\n53\n");
    expect(refused).toMatchObject({ code: 2 });
    expect(refused.said[0]).toContain("lacks temperature; it has conductivity");
    expect((await sums(["salt"])).said[0]).toContain('no sum "salt"');
    expect((await sums(["salinity"], "")).code).toBe(2);
    expect((await sums(["salinity"], "temperature,temperature\n1,1\n")).said[0]).toContain("twice");
  });
});

describe("check-table", () => {
  async function check(args: readonly string[]) {
    const [out, problems]: [string[], string[]] = [[], []];
    const code = await runCheckTable(
      args,
      (line) => out.push(line),
      (line) => problems.push(line),
    );
    return { code, out: out.join("\n"), problems: problems.join("\n") };
  }
  const file = (name: string, text: string) => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };
  const HEADING = "salinity_PSS78,temperature_C_ITS90,density_kg_m3,second_density_kg_m3,source\n";

  test("exit 0 when every row is held, with the largest error in units of tolerance", async () => {
    // UNESCO 44: S 35 at 5 °C on IPTS-68 is 1027.67547 kg/m3.
    const path = file("good.csv", `\uFEFF${HEADING}35,4.9988003,1027.67547,,UNESCO 44\n`);
    const { code, out } = await check(["density", path]);
    expect(code).toBe(0);
    expect(out).toContain("density: 1 rows, 1 held, 0 failed; 1 values compared");
    expect(out).toMatch(/largest error 0\.\d+ of its tolerance \(density, row 1\)/);
  });

  test("exit 1 on any failure, naming input, expected and got", async () => {
    const path = file("bad.csv", `${HEADING}35,25,1023.3,,x\n35,,1023.3,,x\n35,25,,1023.34,x\n`);
    const { code, out } = await check(["density", path]);
    expect(code).toBe(1);
    expect(out).toContain(
      "row 1 failed: salinity_PSS78=35 temperature_C_ITS90=25; density_kg_m3: expected 1023.3 ± 0.0001, got 1023.341",
    );
    expect(out).toContain("temperature_C_ITS90 is empty");
    expect(out).toContain("density: 3 rows, 1 held, 2 failed");
  });

  test("exit 2 where there is nothing to hold, saying what is wrong", async () => {
    expect(await check(["densities", "x.csv"])).toMatchObject({ code: 2 });
    expect((await check(["density", join(folder, "none.csv")])).problems).toContain("ENOENT");
    expect((await check(["density", file("other.csv", "a,b\n1,2\n")])).problems).toContain(
      "the table lacks salinity_PSS78",
    );
    expect((await check(["density", file("empty.csv", HEADING)])).problems).toContain("has no rows");
    expect((await check(["--help"])).out).toContain("carbonate_pH_TA");
  });
});
