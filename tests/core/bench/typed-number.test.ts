/** A typed result is read the same way in the form and on the server. */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { BENCH_QUANTITIES, benchField } from "#core/bench/field.ts";
import { readTypedNumber } from "#core/bench/typed-number.ts";
import { readTypedValue } from "#services/bench/typed-value.ts";

const everyUnit = BENCH_QUANTITIES.flatMap(({ quantity }) => {
  const field = benchField(quantity);
  return field ? field.units.map((unit) => ({ field, unit })) : [];
});
const typing = fc.oneof(
  fc
    .tuple(fc.constantFrom("", "<", "> ", "<0"), fc.double({ min: -50, max: 5000, noNaN: true }))
    .map(([sign, value]) => `${sign}${value.toFixed(2)}`),
  fc.string({ maxLength: 8 }),
  fc.constantFrom("", " ", "8,1", "8.10", ".5", "1e3", "−2", "<", "0x1", "NaN", "Infinity"),
);

describe("what is typed", () => {
  test("is taken or refused alike by the form and the server, with the same value", () => {
    fc.assert(
      fc.property(fc.constantFrom(...everyUnit), typing, ({ field, unit }, text) => {
        const here = readTypedNumber(text, field, unit);
        const there = readTypedValue(
          { quantity: field.quantity, value: text, unit: unit.typed },
          "results.0",
        );
        expect(here.ok).toBe(there.ok);
        if (here.ok && there.ok) {
          const { value, typed, qualifier } = there.result;
          expect(here).toEqual({ ok: true, value, typed, qualifier });
        }
        if (!here.ok && !there.ok) {
          expect(there.issue).toMatchObject({ says: here.fault.says, remedy: here.fault.remedy });
        }
      }),
      { numRuns: 500 },
    );
  });

  test("keeps its figures, and a blank is nothing", () => {
    const ph = benchField("ph");
    const [unit] = ph?.units ?? [];
    if (!ph) throw new Error("pH is not a field");
    expect(readTypedNumber("8.10", ph, unit)).toMatchObject({ ok: true, typed: "8.10", value: 8.1 });
    expect(readTypedNumber("  ", ph, unit)).toMatchObject({ ok: false, fault: { says: "is blank" } });
  });
});
