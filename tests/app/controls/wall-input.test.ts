import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { instantOfWall, wallText } from "#app/_components/controls/wall-input.ts";

/** Offsets and changes of the clock: IANA time zone database. */
describe("times typed at a site", () => {
  test("are of the site's clock", () => {
    expect(instantOfWall("2026-07-01T09:30", "America/Los_Angeles")).toBe(Date.UTC(2026, 6, 1, 16, 30));
    expect(wallText(Date.UTC(2026, 6, 1, 16, 30), "America/Los_Angeles")).toBe("2026-07-01T09:30");
    expect(instantOfWall("2026-07-01T09:30", "Asia/Kathmandu")).toBe(Date.UTC(2026, 6, 1, 3, 45));
  });
  test("an hour that comes twice is the earlier one, an hour that is left out goes on", () => {
    // London 2026-10-25: 02:00 BST becomes 01:00 GMT; 2026-03-29: 01:00 GMT becomes 02:00 BST.
    expect(instantOfWall("2026-10-25T01:30", "Europe/London")).toBe(Date.UTC(2026, 9, 25, 0, 30));
    expect(instantOfWall("2026-03-29T01:30", "Europe/London")).toBe(Date.UTC(2026, 2, 29, 1, 30));
  });
  test("what is no time is refused", () => {
    expect(instantOfWall("", "Europe/London")).toBeNull();
    expect(instantOfWall("2026-13-01T09:30", "Europe/London")).toBeNull();
  });
  test("what is shown is read back, but for the second of two equal hours", () => {
    const zones = fc.constantFrom("Europe/London", "America/St_Johns", "Australia/Lord_Howe", "UTC");
    const minutes = fc.integer({ min: 0, max: 3 * 366 * 24 * 60 });
    fc.assert(
      fc.property(zones, minutes, (zone, minute) => {
        const at = Date.UTC(2025, 0, 1) + minute * 60_000;
        const back = instantOfWall(wallText(at, zone), zone);
        return back === at || (back !== null && back < at && at - back <= 3_600_000);
      }),
      { numRuns: 300 },
    );
  });
});
