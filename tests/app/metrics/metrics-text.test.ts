import { describe, expect, it } from "vitest";
import { metricsText } from "#app/metrics/metrics-text.ts";

const NOW = Date.UTC(2026, 10, 25, 12);
const item = { id: "disk", label: "Disk", state: "good", says: "", since: null, remedy: "" } as const;

describe("metrics", async () => {
  const text = await metricsText({
    ok: true,
    version: 'a "b"\\c',
    schema: 5,
    detail: {
      now: NOW,
      dialect: "sqlite",
      where: "x",
      journal: { seq: 100, received: NOW },
      cursor: null,
      behind: { entries: 2, ms: 1_500 },
      rejudging: [],
      counts: { readings: 10, duplicates: 1, conflicts: 0, rejected: 3, unclaimed: 0 },
    },
    upkeep: {
      items: [item, item],
      processes: [
        {
          name: "accepting",
          host: "h",
          pid: 1,
          started: 1,
          at: NOW,
          memory: 100,
          waiting: 0,
          lastCommitMs: null,
          failedCommits: 0,
          trouble: null,
        },
      ],
      lease: null,
      disk: { free: 5, total: 10 },
      databaseBytes: null,
      backups: {
        last: null,
        good: {
          file: "a.db",
          began: NOW - 360_000,
          finished: NOW,
          bytes: 1,
          trouble: null,
          readings: 1,
          upTo: NOW,
        },
      },
      senders: [{ source: "gw", skew: -2_500, clock: "good", missing: 4 }],
    },
  });

  // Prometheus text exposition format 0.0.4: HELP and TYPE once a family before its samples; names and labels of these letters; a number.
  it("keep to the text format: help and type once a family, then its samples", () => {
    let family = "";
    const seen = new Set<string>();
    for (const line of text.split("\n").filter((each) => each !== "")) {
      const help = /^# HELP (homewater_[a-z_]+) \S.*$/.exec(line);
      const type = /^# TYPE (homewater_[a-z_]+) (counter|gauge)$/.exec(line);
      if (help) {
        family = help[1] ?? "";
        expect(seen.has(family)).toBe(false);
        seen.add(family);
      } else if (type) {
        expect(type[1]).toBe(family);
        if (type[2] === "counter") expect(family).toMatch(/_total$|_position$/);
      } else
        expect(line).toMatch(
          new RegExp(
            `^${family}(\\{[a-z]+="(?:[^"\\\\\\n]|\\\\.)*"(?:,[a-z]+="(?:[^"\\\\\\n]|\\\\.)*")*\\})? -?[0-9.e+]+$`,
          ),
        );
    }
    expect(text.endsWith("\n")).toBe(true);
    expect(seen.size).toBeGreaterThan(15);
  });

  it("carry values in base units, escape labels, and leave out what is not known", () => {
    expect(text).toContain('homewater_info{version="a \\"b\\"\\\\c",schema="5"} 1');
    expect(text).toContain("homewater_evaluator_lag_seconds 1.5");
    expect(text).toContain("homewater_backup_age_seconds 360");
    expect(text).toContain('homewater_process_memory_bytes{process="accepting"} 100');
    expect(text).toContain('homewater_health_items{state="good"} 2');
    expect(text).toContain("homewater_evaluator_up 0");
    expect(text).toContain('homewater_sender_clock_skew_seconds{source="gw"} -2.5');
    expect(text).toContain('homewater_sender_missing_readings{source="gw"} 4');
    expect(text).not.toContain("homewater_database_bytes");
    expect(text).not.toContain("homewater_accept_last_commit_seconds");
  });
});
