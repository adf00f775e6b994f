import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { inOrder, matching } from "#app/bench/_parts/bench-choose.tsx";
import { type Draft, examine, requestOf } from "#app/bench/_parts/draft.ts";
import { rowsAt, withChange, withStored } from "#app/bench/_parts/here-now.ts";
import { afterKey, type PadKey } from "#app/bench/_parts/pad-keys.ts";
import { instantsOf, wallOf } from "#app/bench/_parts/site-wall.ts";
import type { BenchAnswer } from "#contract/answers.ts";
import { benchRequest } from "#contract/api.ts";
import type { FieldHere } from "#contract/bench-form-view.ts";
import { benchField } from "#core/bench/field.ts";

const NOW = Date.UTC(2026, 2, 2, 6, 30);

function here(quantity: string, more: Partial<FieldHere> = {}): FieldHere {
  const field = benchField(quantity);
  if (!field) throw new Error(`no field ${quantity}`);
  return { point: "display", field, band: null, bandSource: null, last: [], ...more };
}
const stored = (id: string, quantity: string, typed: string): BenchAnswer["results"][number] => ({
  id,
  quantity,
  label: quantity,
  typed,
  qualifier: "=",
  unitTyped: "",
  value: Number(typed),
  unit: "",
  unitLabel: "",
  method: null,
  replicate: 1,
  supersedes: null,
  reason: null,
  answer: null,
  asked: null,
});
const draft = (typed: Readonly<Record<string, string>>): Draft => ({
  by: "keeper",
  system: "reef",
  clientId: "id-1",
  point: "display",
  sampledAt: NOW,
  typed: Object.fromEntries(
    Object.entries(typed).map(([quantity, text]) => [quantity, { text, unit: "", method: "", answer: null }]),
  ),
  added: [],
  note: "",
  changedAt: NOW,
});

describe("the pad", () => {
  const typed = (keys: readonly PadKey[]) => keys.reduce(afterKey, "");
  test.each<[readonly PadKey[], string]>([
    [["8", ".", "1", "0"], "8.10"],
    [["<", "0", ".", "0", "2"], "<0.02"],
    [["4", ">"], ">4"],
    [["4", ">", "<"], "<4"],
    [["4", "<", "<"], "4"],
    [["1", "±"], "-1"],
    [["±", "1", "±"], "1"],
    [[".", "5"], "0.5"],
    [["1", ".", "2", "."], "1.2"],
    [["1", "2", "⌫"], "1"],
    [["<", "⌫"], ""],
  ])("%j types %s", (keys, text) => {
    expect(typed(keys)).toBe(text);
  });
});

describe("wall time at the site", () => {
  test("the hour that autumn doubles has two instants, the one that spring skips none", () => {
    // Summer time of the United Kingdom: the Summer Time Order 2002, last Sundays of March and October at 01:00 UTC.
    expect(instantsOf("2026-10-25T01:30", "Europe/London")).toEqual([
      Date.UTC(2026, 9, 25, 0, 30),
      Date.UTC(2026, 9, 25, 1, 30),
    ]);
    expect(instantsOf("2026-03-29T01:30", "Europe/London")).toEqual([]);
    expect(instantsOf("", "Europe/London")).toEqual([]);
  });

  test("every minute is found again from what the wall shows", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: Date.UTC(2020, 0) / 60_000, max: Date.UTC(2030, 0) / 60_000 }),
        fc.constantFrom("Europe/London", "Asia/Kathmandu", "America/St_Johns", "Australia/Lord_Howe", "UTC"),
        (minute, zone) => {
          expect(instantsOf(wallOf(minute * 60_000, zone), zone)).toContain(minute * 60_000);
        },
      ),
    );
  });
});

describe("what is sent", () => {
  test("is what the API takes: figures and sign as typed, the answer beside what was asked", () => {
    const rows = [
      here("ph", { last: [{ ...stored("r", "ph", "8.00"), sampledAt: NOW, analyst: "keeper" }] }),
      here("nitrite"),
      here("alkalinity"),
    ];
    const sent = requestOf(draft({ ph: "9.90", nitrite: "< 0.02", alkalinity: " " }), rows, NOW);
    expect(benchRequest.safeParse(sent).success).toBe(true);
    expect(sent.results.map(({ quantity, value }) => [quantity, value])).toEqual([
      ["ph", "9.90"],
      ["nitrite", "<0.02"],
    ]);
    expect(sent.results[0]).toMatchObject({ answer: "unanswered", asked: expect.stringContaining("?") });
    expect(sent.results[1]).not.toHaveProperty("answer");
    expect(sent.results.some((row) => "reason" in row)).toBe(false);
    expect(Date.parse(sent.sampledAt)).toBe(NOW);
  });

  test("a reading below what the method tells is not proven where the band ends lower", () => {
    const band = {
      low: null,
      high: 0.01,
      actionLow: null,
      actionHigh: 0.02,
      urgentLow: null,
      urgentHigh: null,
    };
    const row = here("nitrite", { band });
    const typed = { text: "<0.05", unit: "", method: "", answer: null };
    expect(examine(row, typed)).toMatchObject({ seen: "doubtful", deviation: null });
    expect(examine(row, { ...typed, text: "0.03" })).toMatchObject({ seen: "action" });
    expect(examine(row, { ...typed, text: "0.005" })).toMatchObject({ seen: "calm" });
  });
});

describe("what stands beside the fields", () => {
  const answer = (results: BenchAnswer["results"]): BenchAnswer => ({
    id: "t",
    clientId: "c",
    repeated: false,
    received: NOW,
    system: "reef",
    point: "display",
    sampledAt: NOW,
    enteredAt: NOW,
    analyst: "keeper",
    note: null,
    results,
    questions: [],
    unionisedAmmonia: null,
  });

  test("a stored result comes first, once; a correction takes its place and a void leaves a gap", () => {
    const before = [here("ph"), here("nitrate")];
    const once = withStored(before, answer([stored("a", "ph", "8.10")]));
    expect(withStored(once, answer([stored("a", "ph", "8.10")]))).toEqual(once);
    expect(once[0]?.last.map((one) => one.typed)).toEqual(["8.10"]);
    const corrected = withChange(once, { old: "a", next: stored("b", "ph", "8.01") });
    expect(corrected[0]?.last.map((one) => [one.id, one.typed])).toEqual([["b", "8.01"]]);
    expect(withChange(corrected, { old: "b", next: null })[0]?.last).toEqual([]);
  });

  test("what is typed keeps its field when the point is changed", () => {
    const rows = [here("ph"), here("nitrate", { point: "sump" })];
    const shown = rowsAt(rows, { ...draft({ ph: "8.1" }), point: "sump" }, {});
    expect(shown.map((row) => row.field.quantity)).toEqual(["nitrate", "ph"]);
  });
});

describe("choosing a system", () => {
  const choice = (system: string, name: string) => ({ system, name, kind: "", standing: "calm" as const });
  const all = [
    choice("reef-lagoon", "Reef Lagoon"),
    choice("kelp-gallery", "Kelp Gallery"),
    choice("q2", "Quarantine 2"),
  ];
  test("by parts of name or short name, last used first", () => {
    expect(matching(all, "gal kelp").map((one) => one.system)).toEqual(["kelp-gallery"]);
    expect(matching(all, "Q2").map((one) => one.system)).toEqual(["q2"]);
    expect(inOrder(all, ["reef-lagoon"]).map((one) => one.system)).toEqual([
      "reef-lagoon",
      "kelp-gallery",
      "q2",
    ]);
  });
});
