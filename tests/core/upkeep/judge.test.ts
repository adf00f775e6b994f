import { describe, expect, it } from "vitest";
import { DAY, HOUR, MINUTE, SECOND } from "#core/time/instant.ts";
import { bytesText } from "#core/units/bytes-text.ts";
import { type HealthFacts, judgeHealth, worstOf } from "#core/upkeep/judge.ts";

const NOW = Date.UTC(2026, 10, 25, 12);
const GIB = 1024 ** 3;
const report = {
  memory: 120 * 1024 ** 2,
  diskFree: 80 * GIB,
  diskTotal: 100 * GIB,
  databaseBytes: 2 * GIB,
  waiting: 3,
  lastCommitMs: 4,
  failedCommits: 0,
  trouble: null,
  backupMinutes: 15,
};
const process = {
  name: "accepting",
  host: "pump-room",
  pid: 7,
  started: NOW - DAY,
  at: NOW - 10 * SECOND,
  report,
};
const backup = {
  file: "a.db",
  bytes: GIB,
  began: NOW - 6 * MINUTE,
  finished: NOW - 5 * MINUTE,
  trouble: null,
  readings: 1_000,
  upTo: NOW - 6 * MINUTE,
};
const WELL: HealthFacts = {
  now: NOW,
  dialect: "sqlite",
  journal: { seq: 100, received: NOW - SECOND },
  cursor: { seq: 100, received: NOW - SECOND },
  rejudging: 0,
  counts: { readings: 1_000, rejected: 0, conflicts: 0, unclaimed: 0 },
  processes: [process],
  lease: { holder: "x", expires: NOW + 10 * SECOND },
  backups: { last: backup, good: backup },
  senders: [{ source: "gateway-1", skew: 300, clock: "good", missing: 0 }],
};
const found = (id: string, more: Partial<HealthFacts>) =>
  judgeHealth({ ...WELL, ...more }).find((item) => item.id === id);
const with_ = (more: object) => ({ processes: [{ ...process, report: { ...report, ...more } }] });

describe("health", () => {
  it("is quiet while everything is as it should be", () => {
    const items = judgeHealth(WELL);
    expect(worstOf(items)).toBe("good");
    expect(items.every((item) => item.remedy === "" && item.since === null)).toBe(true);
  });

  it("says what is wrong, since when and what to do, the gravest first", () => {
    const items = judgeHealth({
      ...WELL,
      lease: { holder: "x", expires: NOW - HOUR },
      counts: { ...WELL.counts, rejected: 12 },
    });
    expect(items[0]).toMatchObject({
      id: "evaluating",
      state: "act",
      since: NOW - HOUR,
      says: expect.stringContaining("No evaluator has run for 1 h"),
      remedy: expect.stringContaining("npm start"),
    });
    expect(items[1]).toMatchObject({
      id: "rejected",
      state: "look",
      says: expect.stringContaining("12 messages could not be read"),
    });
  });

  it("knows a process that has fallen silent, or never spoke, or cannot store", () => {
    expect(found("accepting", { processes: [] })).toMatchObject({
      state: "act",
      says: expect.stringContaining("No accepting process"),
    });
    expect(found("accepting", { processes: [{ ...process, at: NOW - 10 * MINUTE }] })).toMatchObject({
      state: "act",
      since: NOW - 10 * MINUTE,
    });
    expect(found("accepting", with_({ trouble: "the disk is full" }))).toMatchObject({
      state: "act",
      says: expect.stringContaining("the disk is full"),
    });
    expect(found("accepting", with_({ waiting: 40_000 }))).toMatchObject({ state: "look" });
  });

  it("tells lag that passes from lag that does not", () => {
    const behind = (ms: number) =>
      found("lag", { journal: { seq: 300, received: NOW }, cursor: { seq: 100, received: NOW - ms } });
    expect(behind(10 * SECOND)).toMatchObject({ state: "good" });
    // "Within" is a promise: it is never rounded down.
    expect(behind(10_400)?.says).toBe("Everything accepted is evaluated, to within 11 s.");
    expect(behind(MINUTE)).toMatchObject({
      state: "look",
      says: expect.stringContaining("200 accepted commits"),
    });
    expect(behind(HOUR)).toMatchObject({ state: "act" });
  });

  it("judges room by share and by bytes, whichever is smaller", () => {
    expect(found("disk", with_({ diskFree: 6 * GIB }))).toMatchObject({ state: "good" });
    expect(found("disk", with_({ diskFree: 4 * GIB }))).toMatchObject({ state: "look" });
    expect(found("disk", with_({ diskFree: 0.5 * GIB }))).toMatchObject({
      state: "act",
      remedy: expect.stringContaining("Free up space"),
    });
    expect(found("disk", with_({ diskFree: null }))).toMatchObject({ state: "unknown" });
  });

  it("wants a verified backup that is not old", () => {
    const old = (age: number) =>
      found("backup", {
        backups: { last: { ...backup, began: NOW - age }, good: { ...backup, began: NOW - age } },
      });
    expect(old(20 * MINUTE)).toMatchObject({ state: "good" });
    expect(old(2 * HOUR)).toMatchObject({ state: "look", since: NOW - 2 * HOUR + 15 * MINUTE });
    expect(old(3 * DAY)).toMatchObject({ state: "act" });
    const failed = { ...backup, trouble: "no room." };
    expect(found("backup", { backups: { last: failed, good: backup } })).toMatchObject({
      state: "look",
      says: expect.stringContaining("no room."),
    });
    expect(found("backup", { backups: { last: failed, good: null } })).toMatchObject({ state: "act" });
    expect(
      found("backup", { ...with_({ backupMinutes: 0 }), backups: { last: null, good: null } }),
    ).toMatchObject({ state: "look", says: expect.stringContaining("switched off") });
    expect(found("backup", { backups: { last: null, good: null } })).toMatchObject({ state: "look" });
  });

  it("sees a clock that was set back, and a house that has gone quiet", () => {
    expect(found("clock", { journal: { seq: 1, received: NOW + HOUR } })).toMatchObject({ state: "act" });
    expect(found("clock", { journal: { seq: 1, received: NOW - 5 * HOUR } })).toMatchObject({
      state: "look",
      since: NOW - 5 * HOUR,
    });
    expect(found("clock", { journal: null })).toMatchObject({ state: "unknown" });
  });

  it("names senders whose clock is off and whose readings are missing", () => {
    const of = (more: object) =>
      found("senders", { senders: [{ source: "gw", skew: 0, clock: "good", missing: null, ...more }] });
    expect(of({})).toMatchObject({ state: "good" });
    expect(of({ clock: "M", skew: -90_000 })).toMatchObject({
      state: "look",
      says: "The clock of gw is 1 min 30 s ahead.",
    });
    expect(of({ clock: "F", skew: HOUR })).toMatchObject({
      state: "act",
      says: "The clock of gw is 1 h behind.",
    });
    expect(of({ missing: 12 })).toMatchObject({ state: "look", says: "12 readings from gw are missing." });
    expect(of({ missing: 1 })).toMatchObject({ says: "1 reading from gw is missing." });
    expect(of({ clock: null, skew: null })?.says).toContain("no clock is known to be off");
  });

  it("says what came: a log entry is no message of a gateway", () => {
    expect(found("clock", { journal: { seq: 1, received: NOW - MINUTE } })?.says).toBe(
      "The last reading, test or entry of any kind was received 1 min ago.",
    );
    expect(found("rejected", { counts: { ...WELL.counts, rejected: 1, unclaimed: 3 } })?.says).toBe(
      "Since the start: 1 message could not be read, 3 readings came for a point that is not set up.",
    );
  });

  it("writes sizes people can compare", () => {
    expect([0, 900, 1_536, 5 * 1024 ** 2, 250 * GIB].map(bytesText)).toEqual([
      "0 B",
      "900 B",
      "1.5 KiB",
      "5.0 MiB",
      "250 GiB",
    ]);
  });
});
