import fc from "fast-check";
import { expect, test } from "vitest";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { backupInstant, backupName, keptBackups } from "#core/upkeep/rotation.ts";

const NOW = Date.UTC(2026, 10, 25, 12);
const USUAL = { newest: 8, hours: 24, days: 14 };

test("a month of quarter-hourly backups leaves the newest eight, one an hour of a day, one a day of a fortnight", () => {
  const made = Array.from({ length: 30 * 96 }, (_, n) => NOW - n * 15 * MINUTE);
  const kept = [...keptBackups(made, USUAL)].sort((a, b) => b - a);
  expect(kept.slice(0, 8)).toEqual(made.slice(0, 8));
  // The 8 newest hold the last of 3 hours (12, 11 and 10 o'clock), so 21 more; these hold the last of two days, so 12 more.
  expect(kept).toHaveLength(8 + 21 + 12);
  expect(NOW - (kept.at(-1) ?? 0)).toBeGreaterThan(12 * DAY);
  expect(NOW - (kept[20] ?? 0)).toBeLessThan(DAY);
});

test("the newest is always kept, nothing is invented, and keeping twice changes nothing", () => {
  const instants = fc.uniqueArray(
    fc.integer({ min: 0, max: 90 * 24 }).map((n) => NOW - n * HOUR),
    { maxLength: 300 },
  );
  const rotation = fc.record({ newest: fc.integer({ min: 0, max: 9 }), hours: fc.nat(30), days: fc.nat(30) });
  fc.assert(
    fc.property(instants, rotation, (made, wanted) => {
      const kept = keptBackups(made, wanted);
      if (made.length > 0) expect(kept.has(Math.max(...made))).toBe(true);
      expect([...kept].every((at) => made.includes(at))).toBe(true);
      expect(kept.size).toBeLessThanOrEqual(Math.max(1, wanted.newest) + wanted.hours + wanted.days);
      expect(keptBackups([...kept], wanted)).toEqual(kept);
    }),
  );
});

test("a name carries its second, and other names carry none", () => {
  const at = Date.UTC(2026, 10, 25, 7, 5, 9);
  expect(backupName(at, "db")).toBe("homewater-20261125T070509Z.db");
  expect(backupInstant(backupName(at + 456, "dump"))).toBe(at);
  for (const name of ["homewater.db", "homewater-20261125T070509Z.db.partial", "notes.txt"])
    expect(backupInstant(name)).toBeNull();
});
