import { describe, expect, it } from "vitest";
import { faultText } from "#core/faults/fault.ts";
import { cellReader } from "#core/importing/file-value.ts";
import { type ImportPlan, type ImportTarget, importPlan } from "#core/importing/plan.ts";
import { emptyColumn, type ImportReport, mergeReports, totalsOf } from "#core/importing/report.ts";
import { type RowReader, rowReader } from "#core/importing/row-reader.ts";

const target = (quantity: string, unit: string | null = null): ImportTarget => ({
  system: "reef",
  point: "display",
  quantity,
  unit,
});
const plan = (more: Partial<ImportPlan> = {}): ImportPlan =>
  importPlan.parse({
    encoding: "utf-8",
    delimiter: ",",
    decimal: ".",
    headingLine: 1,
    time: { columns: ["t"], format: "iso", zone: "Z", twice: "refuse" },
    missing: ["NA"],
    layout: {
      kind: "wide",
      columns: [
        { column: "temp", target: target("temperature", "[degF]") },
        { column: "pump", target: target("pump") },
      ],
    },
    ...more,
  });
const NOW = Date.UTC(2026, 0, 1);
const reader = (of: ImportPlan, header: string[]): RowReader => {
  const made = rowReader(of, header);
  if (!("read" in made)) throw new Error(JSON.stringify(made));
  return made;
};

describe("cells", () => {
  const read = (cell: string, of = target("temperature"), decimal: "." | "," = ".") => {
    const cells = cellReader(of, decimal);
    if (typeof cells !== "function") return faultText(cells);
    const result = cells(cell);
    return result.ok ? result.value : faultText(result);
  };

  it("are converted exactly into the registry's unit", () => {
    // 68 degF = 20 degC by definition of the scales (NIST SP 811, appendix B).
    expect(read("68", target("temperature", "[degF]"))).toBeCloseTo(20, 12);
    expect(read("500", target("copper", "ug/L"))).toBeCloseTo(0.5, 12);
    expect(read("20", target("temperature", "mg/L"))).toMatch(/does not convert exactly/);
  });

  it("take a decimal comma only where it was chosen, and never a thousands sign", () => {
    expect(read("8,12")).toMatch(/choose ","/);
    expect(read("8,12", target("ph"), ",")).toBe(8.12);
    expect(read("8.12", target("ph"), ",")).toMatch(/choose "\."/);
    expect(read("1.234,5", target("orp"), ",")).toMatch(/not a number/);
    expect(read("1,234.5", target("orp"))).toMatch(/not a number/);
  });

  it("that are no values are refused and never become nought", () => {
    for (const cell of ["nan", "null", "-", "error", "0x10", "1e999", "--3"])
      expect(typeof read(cell)).toBe("string");
    expect(read("<0.02", target("nitrate"))).toMatch(/limit/);
    expect(read("tripped", target("pump"))).toBe(3);
    expect(read("Tripped", target("pump"))).toMatch(/not one of/);
  });
});

describe("rows", () => {
  it("of a wide file give one reading a filled cell", () => {
    const read = reader(plan(), ["t", "temp", "pump"]);
    const { at, events } = read.read(["2025-01-01 00:00", "68", "NA"], null, NOW);
    expect(at).toBe(Date.UTC(2025, 0, 1));
    expect(events).toEqual([
      { kind: "reading", target: 0, at, value: expect.closeTo(20, 10) },
      { kind: "empty", target: 1 },
    ]);
    expect(read.read(["2025-01-01 00:00"], null, NOW).events.map((event) => event.kind)).toEqual([
      "empty",
      "empty",
    ]);
  });

  it("of a long file are told apart by the names that stand in them", () => {
    const layout = {
      kind: "long" as const,
      name: ["tank", "what"],
      value: "v",
      targets: [{ name: "reef/temp", target: target("temperature") }],
    };
    const read = reader(plan({ layout }), ["t", "tank", "what", "v"]);
    expect(read.read(["2025-01-01 00:00", "reef", "temp", "25.5"], null, NOW).events).toMatchObject([
      { kind: "reading", target: 0, value: 25.5 },
    ]);
    expect(read.read(["2025-01-01 00:00", "reef", "ph", "8"], null, NOW).events).toMatchObject([
      { kind: "rejected", target: null, reason: expect.stringMatching(/no system is chosen/) },
    ]);
  });

  it("with a time that cannot be are refused whole", () => {
    const read = reader(plan(), ["t", "temp", "pump"]);
    expect(read.read(["yesterday", "68", ""], null, NOW)).toMatchObject({
      at: null,
      events: [{ kind: "rejected", target: null }],
    });
    expect(read.read(["2026-01-02 00:00", "68", ""], null, NOW).events).toMatchObject([
      { reason: expect.stringMatching(/future/) },
    ]);
  });

  it("are not read where the plan does not fit the heading: every fault at once, with a remedy", () => {
    const faults = rowReader(
      plan({ time: { columns: ["when"], format: "iso", zone: "Nowhere/Land", twice: "refuse" } }),
      ["t", "temp", "temp", "pump"],
    );
    expect(faults).toMatchObject([
      { field: "time.zone", value: "Nowhere/Land" },
      { field: "time.columns.0", value: "when" },
      { field: "layout.columns.0.column", says: expect.stringMatching(/two columns/) },
    ]);
  });
});

it("reports of pieces add up to the report of the whole, whichever are merged first", () => {
  const report = (n: number): ImportReport => ({
    rows: n,
    backwards: n % 2,
    columns: [
      {
        ...emptyColumn({ name: "temp", place: "a/b/temperature", unit: "Cel" }),
        stored: n,
        from: n,
        to: n + 5,
        min: -n,
        max: n,
      },
    ],
    rejects: [
      { reason: n > 1 ? "late" : "odd", count: n, examples: [{ line: n, column: "t", value: String(n) }] },
    ],
  });
  const [a, b, c] = [report(1), report(2), report(3)];
  const left = mergeReports(mergeReports(a, b), c);
  expect(left).toEqual(mergeReports(a, mergeReports(b, c)));
  expect(totalsOf(left)).toMatchObject({ stored: 6, rejected: 6, from: 1, to: 8 });
  expect(left.columns[0]).toMatchObject({ min: -3, max: 3 });
});
