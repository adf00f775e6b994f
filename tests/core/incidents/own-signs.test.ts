/** No cause without a sign that tells it from what looks like it, and none that goes the other way. Stories: common practice, no source. */
import { describe, expect, test } from "vitest";
import { likelyCauses } from "#core/incidents/cause.ts";
import { type Story, seen, after as sinceOnset, slowly, still } from "./story.ts";

const ids = (story: Story) => likelyCauses(seen(story)).map((cause) => cause.id);
const outOf = (quantity: "temperature" | "ph" | "dissolved_oxygen" | "copper" | "salinity", rule: string) =>
  [{ kind: "out of band", rule, quantity }] as const;

describe("a cause goes the way of what was found", () => {
  const warming = {
    probes: { temperature: sinceOnset(10, 0.5) },
    elsewhere: { temperature: "steady" },
  } as const;
  test("a heater stuck on explains water above its band that warms", () => {
    expect(ids({ ...warming, findings: outOf("temperature", "high") })[0]).toBe("warming");
  });
  test("and neither water below its band that comes back, nor water that cools", () => {
    expect(ids({ ...warming, findings: outOf("temperature", "low") })).toEqual([]);
    const cooling = {
      probes: { temperature: sinceOnset(10, -0.5) },
      elsewhere: { temperature: "steady" },
    } as const;
    expect(ids({ ...cooling, findings: outOf("temperature", "low") })[0]).toBe("cooling");
    expect(ids({ ...cooling, findings: outOf("temperature", "high") })).toEqual([]);
  });
  test("a side effect is no explanation: half a degree does not take a third of the oxygen", () => {
    const both = {
      probes: { temperature: sinceOnset(10, 0.2), dissolved_oxygen: sinceOnset(9, -0.9) },
      elsewhere: { temperature: "steady" },
    } as const;
    expect(ids({ ...both, findings: outOf("dissolved_oxygen", "low") })).not.toContain("warming");
  });
});

test("what goes back to its band after a repair is told as that, and no failure of the other way", () => {
  const back = {
    probes: { temperature: sinceOnset(10, 1.2) },
    elsewhere: { temperature: "steady" },
    findings: [{ kind: "too fast", rule: "rising", quantity: "temperature", isReturn: true }],
  } as const;
  expect(ids(back)).toEqual(["returning"]);
});

describe("without a sign of its own nothing is offered", () => {
  test.each<[string, Story]>([
    ["warming", { probes: { temperature: sinceOnset(25, 0.5) } }],
    ["cooling", { probes: { temperature: sinceOnset(25, -0.5) } }],
    ["oxygen-load", { probes: { dissolved_oxygen: sinceOnset(8, -0.5) } }],
    ["top-off-open", { probes: { salinity: sinceOnset(34, -0.3) } }],
    ["probe-fouled", { probes: { dissolved_oxygen: slowly(8, -1.2), ph: still(8) } }],
    [
      "ph-probe-drift",
      {
        probes: { ph: slowly(8.1, -0.3) },
        bench: {
          ph: [
            [2, 8.1],
            [0, 8.1],
          ],
        },
      },
    ],
    ["gas-pressure", { probes: { total_gas_pressure: sinceOnset(101, 2) } }],
    ["degas-failed", { probes: { ph: sinceOnset(8, -0.05) } }],
    ["drain-leak", { probes: { "level/sump": sinceOnset(1400, -40) } }],
    ["ozone-overdose", { probes: { orp: sinceOnset(330, 40) } }],
  ])("%s", (cause, story) => {
    expect(ids(story)).not.toContain(cause);
  });
});

test("a second method that finds the same confirms a metal; one that does not is another method", () => {
  const bench = {
    copper: [
      [1, 0.12],
      [0, 0.125],
    ],
  } as const;
  const found = {
    bench: { copper: [[3, 0.005], ...bench.copper] as const },
    findings: outOf("copper", "high"),
  };
  expect(ids({ ...found, confirmed: ["copper"] })[0]).toBe("metal-found");
  expect(ids({ ...found, confirmed: ["copper"] })).not.toContain("method-changed");
  expect(ids(found)).not.toContain("metal-found");
  expect(ids({ ...found, methodOf: ["copper"] })).toEqual(["method-changed"]);
});

test("a dose of base raises pH and un-ionised ammonia while the total stays; pH that falls is not its doing", () => {
  const dosed = {
    probes: { ph: sinceOnset(8, 0.12), unionised_ammonia: sinceOnset(0.005, 0.004) },
    bench: {
      total_ammonia: [
        [2, 0.2],
        [0, 0.2],
      ] as const,
    },
    logged: ["dosing"],
  };
  expect(ids({ ...dosed, findings: outOf("ph", "high") })[0]).toBe("base-dosed");
  expect(ids({ ...dosed, logged: [], findings: outOf("ph", "high") })).not.toContain("base-dosed");
  expect(ids({ ...dosed, findings: outOf("ph", "low") })).not.toContain("base-dosed");
});

test("a treatment that stands in the log is said, beside whatever fits better", () => {
  expect(
    ids({
      probes: { salinity: sinceOnset(34, -0.3) },
      logged: ["treatment"],
      findings: outOf("salinity", "low"),
    }),
  ).toEqual(["treatment"]);
});

test("systems of one loop that warm together point at the loop, and all of the house together at the building", () => {
  const warm = { probes: { temperature: sinceOnset(14, 0.3) }, findings: outOf("temperature", "high") };
  expect(ids({ ...warm, sharing: ["up", "up", "up"], elsewhere: { temperature: "steady" } })[0]).toBe(
    "loop-off",
  );
  expect(ids({ ...warm, sharing: ["up", "steady", "steady"], elsewhere: { temperature: "steady" } })[0]).toBe(
    "warming",
  );
  expect(ids({ ...warm, sharing: ["up", "up"], elsewhere: { temperature: "up" } })).not.toContain("loop-off");
});

test("a probe in air with a falling level is lost water; alone it says go and look", () => {
  const air = [{ kind: "exposed", rule: "air", quantity: "salinity" }] as const;
  expect(ids({ probes: { "level/sump": sinceOnset(1400, -200) }, findings: air })[0]).toBe("drain-leak");
  expect(ids({ findings: air })).toEqual(["place-in-air"]);
});
