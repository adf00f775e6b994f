import { describe, expect, test } from "vitest";
import { effectWords, filterOf, type LogChoice, logQueryOf } from "#app/logbook/_parts/log-choices.ts";
import { struckWords, withAfter } from "#app/logbook/_parts/log-earlier.ts";
import { bodyOf, correctionOf, typedOf } from "#app/logbook/_parts/log-typed.ts";
import { logChoices } from "#app/logbook/log-kinds.ts";
import { correctLogRequest, type LogEntryView, logQuery, logRequest } from "#contract/log.ts";
import { LOG_KINDS } from "#core/logbook/kinds.ts";
import { clockOf } from "#core/time/zone-clock.ts";

const choices = logChoices();
const choice = (id: string): LogChoice => {
  const found = choices.find((row) => row.id === id);
  if (found === undefined) throw new Error(`no kind ${id}`);
  return found;
};
const typed = {
  kind: "water-change",
  systems: ["reef", "kelp", ""],
  stream: "",
  at: "2026-07-01T09:30",
  until: "",
  isOpen: true,
  expected: "",
  amount: "8,5",
  unit: "%",
  item: "",
  animals: "",
  text: "new salt",
};

describe("what is typed into the logbook", () => {
  test("becomes a request that the API takes, at the site's time", () => {
    const made = bodyOf(typed, choice("water-change"), "Europe/London", "");
    if ("wrong" in made) throw new Error("refused");
    const request = logRequest.parse({ clientId: "a", ...made.body });
    // British Summer Time is one hour before UTC (IANA time zone database).
    expect(request).toMatchObject({
      systems: ["reef", "kelp"],
      at: Date.UTC(2026, 6, 1, 8, 30),
      open: true,
      amount: 8.5,
      unit: "%",
    });
  });

  test("what is wrong is said at its field before anything is sent", () => {
    const made = bodyOf(
      { ...typed, kind: "", systems: [""], at: "", amount: "eight", unit: "" },
      undefined,
      "Europe/London",
      "",
    );
    expect("wrong" in made ? Object.keys(made.wrong).sort() : []).toEqual([
      "amount",
      "at",
      "kind",
      "systems",
      "unit",
    ]);
    const backwards = bodyOf(
      { ...typed, isOpen: false, until: "2026-07-01T09:00" },
      choice("water-change"),
      "Europe/London",
      "",
    );
    expect(backwards).toEqual({ wrong: { until: "The end is before the start." } });
  });

  test("the response to an alarm names it", () => {
    const made = bodyOf(typed, choice("note"), "Europe/London", "alarm-1");
    expect("body" in made ? made.body : {}).toMatchObject({ alarm: "alarm-1" });
    expect("body" in made ? made.body : {}).not.toHaveProperty("open");
  });
});

describe("kinds as they are offered", () => {
  test("every kind is there, and says what it keeps quiet and for how long at most", () => {
    expect(choices.map((row) => row.id)).toEqual(Object.keys(LOG_KINDS));
    expect(effectWords(choice("backwash"))).toMatch(/at most 30 min: flow, .*turbidity/);
    expect(effectWords(choice("calibration"))).toMatch(/at most 30 min: the probe or pump named here/);
    expect(effectWords(choice("note"))).toBe("Mutes no alarms.");
  });
});

describe("the filter in the address", () => {
  test("anything strange is the usual; the question is one the API takes", () => {
    expect(filterOf({ range: "century", system: ["a", "b"] })).toEqual({ system: "", kind: "", range: "3d" });
    const query = logQueryOf(filterOf({ system: "reef", kind: "feed", range: "2w" }), Date.UTC(2026, 0, 20));
    expect(logQuery.parse(query)).toMatchObject({
      systems: "reef",
      kinds: "feed",
      from: Date.UTC(2026, 0, 6),
    });
  });
});

describe("a correction", () => {
  const entry: LogEntryView = {
    id: "e",
    clientId: "c",
    kind: "water-change",
    kindLabel: "Water change",
    systems: [{ system: "reef", name: "Reef" }],
    point: null,
    quantity: null,
    quantityLabel: null,
    at: Date.UTC(2026, 6, 1, 8, 30),
    until: null,
    open: false,
    expected: null,
    amount: 8.5,
    unit: "%",
    item: null,
    animals: ["Nerine"],
    text: "new salt",
    alarm: null,
    by: "A",
    entered: Date.UTC(2026, 6, 1, 9),
    late: false,
    closedBy: null,
    closingText: null,
    quiet: null,
    overdue: null,
    reason: null,
    earlier: [],
  };
  const zone = "Europe/London";

  test("sends only what is otherwise, and takes away what was emptied", () => {
    const first = typedOf(entry, zone);
    expect(first.at).toBe("2026-07-01T09:30");
    const made = correctionOf(
      { ...first, systems: ["kelp"], amount: "", unit: "", animals: "" },
      first,
      zone,
      " the other one ",
    );
    if ("wrong" in made) throw new Error("refused");
    expect(correctLogRequest.parse({ clientId: "b", ...made.body })).toEqual({
      clientId: "b",
      reason: "the other one",
      systems: ["kelp"],
      amount: null,
      unit: null,
      animals: [],
    });
  });

  test("wants its reason, and reads its fields as a new entry does", () => {
    const first = typedOf(entry, zone);
    const made = correctionOf({ ...first, until: "2026-07-01T09:00", amount: "x" }, first, zone, "");
    expect("wrong" in made ? Object.keys(made.wrong).sort() : []).toEqual(["amount", "reason", "until"]);
  });

  test("leaves in sight what was said otherwise, and that alone", () => {
    const { id, by, entered, systems, point, quantityLabel, at, until, amount, unit, item, animals, text } =
      entry;
    const row = {
      id,
      by,
      entered,
      systems,
      point,
      quantityLabel,
      at,
      until,
      amount,
      unit,
      item,
      animals,
      text,
    };
    const was = { ...row, reason: null, amount: 85, item: "batch 4", text: "" };
    expect(struckWords(was, entry, clockOf(zone))).toEqual(["85 %", "batch 4", "no note"]);
    const latest = { ...entry, reason: "typed wrong", earlier: [was, { ...was, amount: null }] };
    expect(withAfter(latest).map(({ after }) => after.amount)).toEqual([8.5, 85]);
  });
});
