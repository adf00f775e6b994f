import { expect, test } from "vitest";
import { likelyCauses } from "#core/incidents/cause.ts";
import { signOf, type Track } from "#core/incidents/sign.ts";
import { after, type Course, NOW, ONSET, seen, slowly, still } from "./story.ts";

test("a cause speaks of what was found: water that moves beside a drifting probe is not blamed", () => {
  const causes = likelyCauses(
    seen({
      probes: { temperature: after(15, 0.3), ph: still(8) },
      findings: [{ kind: "drifting", rule: "bench", quantity: "ph" }],
    }),
  );
  expect(causes.map((cause) => cause.id)).not.toContain("warming");
  expect(causes.map((cause) => cause.id)).toContain("probe-fouled");
});
test("the day curve is no failure", () => {
  const day: Course = (h) => 25 + 0.6 * Math.sin((2 * Math.PI * h) / 24);
  expect(signOf(seen({ probes: { temperature: day } }).signs[0]?.track as Track, ONSET, NOW).hours).toBe(
    "steady",
  );
});
test("only a finding against the bench says that a probe has drifted from its bench tests", () => {
  const against = (rule: string) =>
    likelyCauses(
      seen({ probes: { ph: still(8) }, findings: [{ kind: "drifting", rule, quantity: "ph" }] }),
    ).flatMap((cause) => cause.for);
  expect(against("bench")).toContain("it has drifted from its bench tests");
  for (const rule of ["time of day", "trend", "tests"])
    expect(against(rule)).not.toContain("it has drifted from its bench tests");
});
test("pH of probes alone is not told as pH of bench tests", () => {
  const [cause] = likelyCauses(
    seen({
      probes: { ph: slowly(8.1, -0.2) },
      bench: {
        alkalinity: [
          [3, 2.6],
          [1, 2.4],
          [0, 2.2],
        ],
      },
      findings: [{ kind: "drifting", rule: "tests", quantity: "alkalinity" }],
    }),
  ).filter(({ id }) => id === "alkalinity-used");
  expect(cause?.for).toContain("pH falls");
});
