import { expect, test } from "vitest";
import { uuidV7 } from "#services/new-id.ts";

test("time, version and variant stand where the example of RFC 9562, appendix A.6, has them", () => {
  expect(uuidV7(0x017f22e279b0)).toMatch(/^017f22e2-79b0-7[\da-f]{3}-[89ab][\da-f]{3}-[\da-f]{12}$/);
});

test("ids differ within a millisecond and sort by when they were made", () => {
  const ids = [1, 2, 3].map((ms) => uuidV7(1_772_433_000_000 + ms));
  expect([...ids].sort()).toEqual(ids);
  expect(uuidV7(1)).not.toBe(uuidV7(1));
});
