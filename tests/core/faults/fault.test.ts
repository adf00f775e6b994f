import { expect, test } from "vitest";
import { faultText } from "#core/faults/fault.ts";

test("the parts of a fault read as one sentence, behind the name of the thing where there is one", () => {
  const fault = { says: "is missing", remedy: "send a number" };
  expect(faultText(fault, "value")).toBe("value is missing: send a number");
  expect(faultText(fault)).toBe("is missing: send a number");
});
