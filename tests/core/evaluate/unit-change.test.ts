/** A sender begins to send another unit under the name of the old one: nothing is converted by guess, and the finding says what it looks like. */
import { expect, it } from "vitest";
import { wording } from "../../../lib/core/alarms/wording.ts";
import { foldReading } from "../../../lib/core/evaluate/fold.ts";
import { createFolder } from "../../../lib/core/evaluate/folder.ts";
import { emptyOutputs } from "../../../lib/core/evaluate/outputs.ts";
import { compileSystem } from "../../../lib/core/evaluate/settings.ts";
import { settle } from "../../../lib/core/evaluate/settle.ts";
import { emptyWater } from "../../../lib/core/evaluate/water-state.ts";
import { MINUTE } from "../../../lib/core/time/instant.ts";
import { QUANTITIES } from "../../../lib/core/units/index.ts";

const T0 = Date.parse("2026-02-01T00:00:00Z");
const CADENCE = 5 * MINUTE;

it.each([
  // Degrees Fahrenheit as Celsius, micrograms as milligrams: what is sent is stored and judged as it was sent.
  ["temperature", (n: number) => 24 + (n % 5) / 20, (value: number) => value * 1.8 + 32, "exposed", "°F"],
  ["chlorine", () => 0.003, (value: number) => value * 1_000, "stepped", "µg/L as Cl₂"],
] as const)("%s", (quantity, valueAt, slip, kind, unit) => {
  const facts = {
    system: { id: "kelp", water: "marine" as const, volume: 40, youngFilter: false },
    zone: "Europe/London",
    elevation: 0,
    streams: [
      {
        id: 1,
        system: "kelp",
        pointCode: "display",
        quantity,
        origin: "probe" as const,
        interval: CADENCE,
        critical: true,
      },
    ],
    bands: [],
    plans: [],
  };
  const [folder, water, out] = [createFolder(compileSystem(facts)), emptyWater(), emptyOutputs()];
  const sent = Array.from({ length: 105 }, (_, n) => (n < 100 ? valueAt(n) : slip(valueAt(n))));
  for (const [n, value] of sent.entries()) {
    const at = T0 + n * CADENCE;
    foldReading(folder, water, { stream: 1, at, value, received: at, mark: null, recorded: false }, out);
  }
  settle(folder, water, out);
  const found = [...out.findings.values()].find((finding) => finding.kind === kind);
  if (!found) throw new Error(`nothing ${kind} was found: ${JSON.stringify([...out.findings.values()])}`);
  const says = wording(found, {
    spec: QUANTITIES[quantity],
    point: "display",
    zone: "Europe/London",
    now: T0 + 200 * CADENCE,
  });
  expect(says).toContain(`as a change of the sender's unit to or from ${unit} would`);
  expect(water.streams.get(1)?.value).toBe(sent.at(-1));
});
