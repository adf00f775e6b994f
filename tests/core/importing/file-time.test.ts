import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { faultText } from "#core/faults/fault.ts";
import { fileTime, isZone } from "#core/importing/file-time.ts";
import type { ImportPlan } from "#core/importing/plan.ts";

const plan = (more: Partial<ImportPlan["time"]> = {}): ImportPlan["time"] => ({
  columns: ["t"],
  format: "iso",
  zone: "Europe/London",
  twice: "refuse",
  ...more,
});
const at = (text: string, more: Partial<ImportPlan["time"]> = {}, previous: number | null = null) => {
  const read = fileTime(plan(more)).read(text.split("|"), previous);
  return read.ok ? new Date(read.at).toISOString() : faultText(read);
};

// Europe/London: clocks went forward at 01:00 UTC on 2026-03-29 and back at 01:00 UTC on 2026-10-25 (IANA time zone database).
describe("wall-clock times of a file", () => {
  it("are taken in the zone that was chosen, summer and winter", () => {
    expect(at("2026-01-15 12:00")).toBe("2026-01-15T12:00:00.000Z");
    expect(at("2026-07-15 12:00")).toBe("2026-07-15T11:00:00.000Z");
    expect(at("2026-07-15T12:00:30.25", { zone: "-07:00" })).toBe("2026-07-15T19:00:30.250Z");
  });

  it("keep an offset of their own whatever was chosen", () => {
    expect(at("2026-07-15T12:00:00+02:00")).toBe("2026-07-15T10:00:00.000Z");
    expect(at("2026-07-15 12:00 -0730", { zone: null })).toBe("2026-07-15T19:30:00.000Z");
    expect(at("2026-07-15 12:00", { zone: null })).toMatch(/no offset/);
  });

  it("that never were are refused, with the way out", () => {
    for (const twice of ["refuse", "first", "second", "order"] as const) {
      expect(at("2026-03-29 01:30", { twice })).toMatch(/does not exist in Europe\/London.*fixed offset/);
    }
    expect(at("2026-03-29 00:59")).toBe("2026-03-29T00:59:00.000Z");
    expect(at("2026-03-29 02:00")).toBe("2026-03-29T01:00:00.000Z");
  });

  it("that came twice are refused or taken as a person has said", () => {
    expect(at("2026-10-25 01:30")).toMatch(/occurs twice/);
    expect(at("2026-10-25 01:30", { twice: "first" })).toBe("2026-10-25T00:30:00.000Z");
    expect(at("2026-10-25 01:30", { twice: "second" })).toBe("2026-10-25T01:30:00.000Z");
    expect(at("2026-10-25 02:00")).toBe("2026-10-25T02:00:00.000Z");
  });

  it("that came twice are told apart by the order of the file", () => {
    const reader = fileTime(plan({ twice: "order" }));
    let previous: number | null = null;
    const seen: string[] = [];
    for (const clock of [
      "00:45",
      "01:00",
      "01:15",
      "01:30",
      "01:45",
      "01:00",
      "01:15",
      "01:30",
      "01:45",
      "02:00",
    ]) {
      const read = reader.read([`2026-10-25 ${clock}`], previous);
      if (!read.ok) throw new Error(faultText(read));
      previous = read.at;
      seen.push(new Date(read.at).toISOString().slice(11, 16));
    }
    expect(seen).toEqual([
      "23:45",
      "00:00",
      "00:15",
      "00:30",
      "00:45",
      "01:00",
      "01:15",
      "01:30",
      "01:45",
      "02:00",
    ]);
  });

  it("in day or month first order mean what was chosen, and dates that do not exist are refused", () => {
    expect(at("03/04/2024 10:00", { format: "dmy", zone: "Z" })).toBe("2024-04-03T10:00:00.000Z");
    expect(at("03/04/2024 10:00", { format: "mdy", zone: "Z" })).toBe("2024-03-04T10:00:00.000Z");
    expect(at("3.4.2024|9:05", { format: "dmy", zone: "Z", columns: ["d", "t"] })).toBe(
      "2024-04-03T09:05:00.000Z",
    );
    expect(at("30/02/2024 10:00", { format: "dmy", zone: "Z" })).toMatch(/not a real date and time/);
    expect(at("2024-01-01 24:00", { zone: "Z" })).toMatch(/not a real date and time/);
    expect(at("noon", { zone: "Z" })).toMatch(/not in the form/);
  });

  it("as counts since 1970 are seconds or milliseconds by choice", () => {
    expect(at("1711893900", { format: "epoch_s" })).toBe("2024-03-31T14:05:00.000Z");
    expect(at("1711893900000", { format: "epoch_ms" })).toBe("2024-03-31T14:05:00.000Z");
    expect(at("", { format: "epoch_s" })).toMatch(/not a number/);
  });

  it("written from an instant are read back to it, in any zone, but for the hour that comes twice", () => {
    const zones = [
      "Europe/London",
      "America/Denver",
      "Asia/Kathmandu",
      "Australia/Lord_Howe",
      "Pacific/Apia",
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...zones),
        fc.integer({ min: 946_684_800, max: 2_000_000_000 }),
        (zone, seconds) => {
          const instant = new Date(seconds * 1_000);
          // An independent writer of wall-clock time: the formatter of the runtime.
          const text = new Intl.DateTimeFormat("sv-SE", {
            timeZone: zone,
            dateStyle: "short",
            timeStyle: "medium",
          }).format(instant);
          const read = [...(["first", "second"] as const)].map((twice) =>
            fileTime(plan({ zone, twice })).read([text], null),
          );
          expect(read.some((one) => one.ok && one.at === instant.getTime())).toBe(true);
        },
      ),
    );
  });
});

it("knows offsets and zones from anything else", () => {
  expect(["Z", "-07:00", "Europe/London", "UTC"].map(isZone)).toEqual([true, true, true, true]);
  expect(["", "25:00", "Atlantis/Deep", "+7"].map(isZone)).toEqual([false, false, false, false]);
});
