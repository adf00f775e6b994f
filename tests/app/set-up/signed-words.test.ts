import { expect, test } from "vitest";
import { signedRange } from "#app/set-up/_parts/residents/signed-words.ts";

test("the range of a compromise is written like any band: decimals of the quantity, with its unit", () => {
  expect(signedRange({ quantity: "temperature", low: 24, high: 25.25 })).toBe("24.0 to 25.25 °C");
  expect(signedRange({ quantity: "ph", low: 7.9, high: 8.1 })).toBe("7.90 to 8.10");
});
