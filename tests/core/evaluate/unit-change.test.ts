/** A sender begins to send another unit under the name of the old one: nothing is converted by guess, and the finding says what it looks like. */
import { expect, it } from "vitest";
import { wording } from "#core/alarms/wording.ts";
import { MINUTE } from "#core/time/instant.ts";
import { QUANTITIES } from "#core/units/index.ts";
import { folded, stream, ZONE } from "./folded.ts";

const T0 = Date.parse("2026-02-01T00:00:00Z");
const CADENCE = 5 * MINUTE;

it.each([
  // Degrees Fahrenheit as Celsius, micrograms as milligrams: what is sent is stored and judged as it was sent.
  ["temperature", (n: number) => 24 + (n % 5) / 20, (value: number) => value * 1.8 + 32, "exposed", "°F"],
  ["chlorine", () => 0.003, (value: number) => value * 1_000, "stepped", "µg/L as Cl₂"],
] as const)("%s", (quantity, valueAt, slip, kind, unit) => {
  const sent = Array.from({ length: 105 }, (_, n) => (n < 100 ? valueAt(n) : slip(valueAt(n))));
  const { findings, water } = folded(
    { streams: [stream(1, quantity)] },
    sent.map((value, n) => ({ stream: 1, at: T0 + n * CADENCE, value })),
  );
  const found = findings.find((finding) => finding.kind === kind);
  if (!found) throw new Error(`nothing ${kind} was found: ${JSON.stringify(findings)}`);
  const says = wording(found, {
    spec: QUANTITIES[quantity],
    point: "display",
    zone: ZONE,
    now: T0 + 200 * CADENCE,
  });
  expect(says).toContain(`as if the sender had switched its unit to or from ${unit}`);
  expect(water.streams.get(1)?.value).toBe(sent.at(-1));
});
