import { expect, test } from "vitest";
import { likelyCauses } from "#core/incidents/cause.ts";
import { signOf, type Track } from "#core/incidents/sign.ts";
import { after, type Course, NOW, ONSET, seen, still } from "./story.ts";

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
