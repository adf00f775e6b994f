/** How Homewater itself is, in words: what is wrong, since when, what to do. Pure. */

import { durationText, longestText } from "../time/duration-text.ts";
import { DAY, HOUR, type Instant, MINUTE, SECOND } from "../time/instant.ts";
import { bytesText } from "../units/bytes-text.ts";
import { countOf, countText } from "../units/figures-text.ts";
import type { BackupRun } from "./backup-run.ts";
import { type ProcessReport, REPORT_EVERY } from "./process-report.ts";

export type HealthState = "good" | "look" | "act" | "unknown";
export interface HealthItem {
  readonly id: string;
  readonly label: string;
  readonly state: HealthState;
  /** What is the case, with its numbers. */
  readonly says: string;
  /** Since when it is not as it should be; null where it is, or where that is not known. */
  readonly since: Instant | null;
  /** What to do; empty where nothing is to be done. */
  readonly remedy: string;
}
export interface HealthFacts {
  readonly now: Instant;
  readonly dialect: "sqlite" | "postgres";
  readonly journal: { readonly seq: number; readonly received: Instant } | null;
  readonly cursor: { readonly seq: number; readonly received: Instant } | null;
  /** Systems being judged again. */
  readonly rejudging: number;
  readonly counts: {
    readonly readings: number;
    readonly rejected: number;
    readonly conflicts: number;
    readonly unclaimed: number;
  };
  readonly processes: readonly ProcessReport[];
  readonly lease: { readonly holder: string; readonly expires: Instant } | null;
  readonly backups: { readonly last: BackupRun | null; readonly good: BackupRun | null };
  /** Over the last day; left out where it was not looked at. */
  readonly senders?: readonly {
    readonly source: string;
    readonly skew: number | null;
    readonly clock: "good" | "M" | "F" | null;
    readonly missing: number | null;
  }[];
}

/** A process that has not reported for this long counts as gone. */
const GONE = 3 * REPORT_EVERY;
const LAG_LOOK = 30 * SECOND;
const LAG_ACT = 5 * MINUTE;
/** Share of the disk, and bytes, below which disk space is short; the whole is judged by the smaller of the two. Common practice, no source. */
const DISK_LOOK = { share: 0.1, bytes: 5 * 1024 ** 3 };
const DISK_ACT = { share: 0.02, bytes: 1024 ** 3 };
const CLOCK_AHEAD = 2 * MINUTE;

const good = (id: string, label: string, says: string): HealthItem => ({
  id,
  label,
  state: "good",
  says,
  since: null,
  remedy: "",
});
const RANK: Readonly<Record<HealthState, number>> = { act: 0, look: 1, unknown: 2, good: 3 };

/** Every item, the most serious first; the order of equals is that of the list below. */
export function judgeHealth(facts: HealthFacts): readonly HealthItem[] {
  return [
    accepting(facts),
    evaluating(facts),
    lag(facts),
    disk(facts),
    backup(facts),
    clock(facts),
    senders(facts),
    rejected(facts),
  ].sort((a, b) => RANK[a.state] - RANK[b.state]);
}

export const worstOf = (items: readonly HealthItem[]): HealthState => items[0]?.state ?? "unknown";

const alive = (facts: HealthFacts, name: string): ProcessReport | null => {
  const found = facts.processes.find((one) => one.name === name);
  return found !== undefined && facts.now - found.at <= GONE ? found : null;
};

function accepting(facts: HealthFacts): HealthItem {
  const [id, label] = ["accepting", "Accepting readings"];
  const known = facts.processes.find((one) => one.name === id);
  const here = alive(facts, id);
  if (here === null)
    return {
      id,
      label,
      state: "act",
      says: known
        ? `The accepting process has not reported for ${durationText(facts.now - known.at)}: nothing is being stored.`
        : "No accepting process has reported yet: nothing is being stored.",
      since: known?.at ?? null,
      remedy: "Start Homewater (npm start) and read the last lines of its log.",
    };
  const { trouble, waiting = 0, lastCommitMs } = here.report;
  if (trouble != null)
    return {
      id,
      label,
      state: "act",
      says: `Nothing is being stored or acknowledged: ${trouble}`,
      since: null,
      remedy:
        "Senders keep what was not acknowledged. Fix the problem named here; storing then resumes by itself.",
    };
  const pace = lastCommitMs == null ? "no commit yet" : `the last commit took ${Math.round(lastCommitMs)} ms`;
  const says = `${countOf(waiting, "message")} waiting to be stored, ${pace}.`;
  if (waiting > 10_000)
    return {
      id,
      label,
      state: "look",
      says,
      since: null,
      remedy:
        "The disk cannot keep up with incoming messages: check what else is using it, and whether a gateway keeps resending.",
    };
  return good(id, label, says);
}

function evaluating(facts: HealthFacts): HealthItem {
  const [id, label] = ["evaluating", "Evaluating readings"];
  const { lease, now } = facts;
  if (lease !== null && lease.expires > now) return good(id, label, "An evaluator is running.");
  return {
    id,
    label,
    state: "act",
    says:
      lease === null
        ? "No evaluator has ever run: no readings are evaluated and no alarms are raised."
        : `No evaluator has run for ${durationText(now - lease.expires)}: no readings are evaluated and no alarms are raised.`,
    since: lease?.expires ?? null,
    remedy: "Start Homewater (npm start) and read the last lines of its log.",
  };
}

function lag({ journal, cursor, rejudging }: HealthFacts): HealthItem {
  const [id, label] = ["lag", "Evaluation lag"];
  const entries = Math.max(0, (journal?.seq ?? 0) - (cursor?.seq ?? 0));
  const ms = journal && cursor ? Math.max(0, journal.received - cursor.received) : 0;
  const again =
    rejudging === 0 ? "" : ` ${countOf(rejudging, "system is", "systems are")} being evaluated again.`;
  if (entries === 0 || ms < LAG_LOOK)
    return good(id, label, `Everything accepted is evaluated, to within ${longestText(ms)}.${again}`);
  return {
    id,
    label,
    state: ms >= LAG_ACT ? "act" : "look",
    says: `${countOf(entries, "accepted commit is", "accepted commits are")} not evaluated yet; evaluation is ${durationText(ms)} behind.${again}`,
    since: cursor?.received ?? null,
    remedy:
      "After a large import or a restart this clears by itself. If it grows, the machine is too slow or the evaluator has a problem: see its log.",
  };
}

function disk(facts: HealthFacts): HealthItem {
  const [id, label] = ["disk", "Disk"];
  const report = [...facts.processes]
    .sort((a, b) => b.at - a.at)
    .find((one) => one.report.diskFree !== null)?.report;
  const size =
    report?.databaseBytes == null ? "" : ` The database takes up ${bytesText(report.databaseBytes)}.`;
  if (report?.diskFree == null || report.diskTotal == null)
    return {
      id,
      label,
      state: "unknown",
      says: `Free disk space has not been reported.${size}`,
      since: null,
      remedy: "It is reported while Homewater is running.",
    };
  const { diskFree: free, diskTotal: total } = report;
  const says = `${bytesText(free)} of ${bytesText(total)} free.${size}`;
  const below = (limit: typeof DISK_LOOK) => free < Math.min(limit.bytes, limit.share * total);
  if (!below(DISK_LOOK)) return good(id, label, says);
  const state = below(DISK_ACT) ? "act" : "look";
  return {
    id,
    label,
    state,
    says,
    since: null,
    remedy:
      "Free up space or add a larger disk: once it is full, nothing more is stored and senders get no acknowledgement. Old backups are a good place to start.",
  };
}

function backup(facts: HealthFacts): HealthItem {
  const [id, label] = ["backup", "Backup"];
  const { last, good: verified } = facts.backups;
  const minutes = alive(facts, "accepting")?.report.backupMinutes;
  const age = verified === null ? null : facts.now - verified.began;
  const made =
    verified === null || age === null
      ? "There is no verified backup."
      : `The last verified backup is ${durationText(age)} old and contains ${countOf(verified.readings ?? 0, "reading")}.`;
  if (minutes === 0)
    return {
      id,
      label,
      state: "look",
      says: `Backups are switched off. ${made}`,
      since: null,
      remedy: "Set HOMEWATER_BACKUP_MINUTES, unless something else backs up the store.",
    };
  if (last?.trouble != null)
    return {
      id,
      label,
      state: age !== null && age < DAY ? "look" : "act",
      says: `The last backup failed: ${last.trouble} ${made}`,
      since: verified?.began ?? last.began,
      remedy: "Fix the problem named here, then run npm run backup.",
    };
  const due = (minutes ?? 15) * MINUTE;
  if (age === null)
    return {
      id,
      label,
      state: minutes === undefined ? "unknown" : "look",
      says: made,
      since: null,
      remedy: "The first one is made one backup interval after the start; npm run backup makes one now.",
    };
  if (age <= 2 * due + 10 * MINUTE) return good(id, label, made);
  return {
    id,
    label,
    state: age > Math.max(DAY, 4 * due) ? "act" : "look",
    says: made,
    since: (verified?.began ?? 0) + due,
    remedy: "Run npm run backup and read its output.",
  };
}

function clock({ now, journal }: HealthFacts): HealthItem {
  const [id, label] = ["clock", "Clock"];
  if (journal === null)
    return {
      id,
      label,
      state: "unknown",
      says: "Nothing has been received yet.",
      since: null,
      remedy: "Set up a gateway or send a reading by hand; the README shows how.",
    };
  const ahead = journal.received - now;
  if (ahead > CLOCK_AHEAD)
    return {
      id,
      label,
      state: "act",
      says: `The last time of receipt is ${durationText(ahead)} ahead of this machine's clock.`,
      since: null,
      remedy: "The clock was set back: synchronise it with time servers (timedatectl, chronyc tracking).",
    };
  if (-ahead > HOUR)
    return {
      id,
      label,
      state: "look",
      says: `Nothing has been received for ${durationText(-ahead)}.`,
      since: journal.received,
      remedy: "Check that the gateways and the broker are running, and that this machine's clock is right.",
    };
  return good(
    id,
    label,
    `The last reading, test or entry of any kind was received ${durationText(Math.max(0, -ahead))} ago.`,
  );
}

function senders({ senders: all }: HealthFacts): HealthItem {
  const [id, label] = ["senders", "Senders"];
  if (all === undefined)
    return {
      id,
      label,
      state: "unknown",
      says: "Not checked here.",
      since: null,
      remedy: "See the health page.",
    };
  const wrong = all.filter(({ clock: letter }) => letter === "F" || letter === "M");
  const gaps = all.filter(({ missing }) => missing !== null && missing > 0);
  if (wrong.length + gaps.length === 0)
    return good(
      id,
      label,
      `${countText(all.length)} in the last day; no clock is known to be off and no numbered reading is missing.`,
    );
  const clocks = wrong.map(
    ({ source, skew }) =>
      `the clock of ${source} is ${durationText(Math.abs(skew ?? 0))} ${(skew ?? 0) < 0 ? "ahead" : "behind"}`,
  );
  const missing = gaps.map(
    ({ source, missing: count }) =>
      `${countOf(count ?? 0, `reading from ${source} is`, `readings from ${source} are`)} missing`,
  );
  const said = [...clocks, ...missing].join("; ");
  return {
    id,
    label,
    state: wrong.some(({ clock: letter }) => letter === "F") ? "act" : "look",
    says: `${said.charAt(0).toUpperCase()}${said.slice(1)}.`,
    since: null,
    remedy:
      "Synchronise gateway clocks with time servers. A gateway that keeps its readings can resend the missing ones.",
  };
}

function rejected({ counts }: HealthFacts): HealthItem {
  const [id, label] = ["rejected", "Messages"];
  const parts = [
    [counts.rejected, "message", "could not be read"],
    [counts.unclaimed, "reading", "came for a point that is not set up"],
    [counts.conflicts, "reading", "had a different value for a time already stored"],
  ] as const;
  const said = parts
    .filter(([count]) => count > 0)
    .map(([count, what, how]) => `${countOf(count, what)} ${how}`);
  if (said.length === 0) return good(id, label, "Every message was read and matched to a point.");
  return {
    id,
    label,
    state: "look",
    says: `Since the start: ${said.join(", ")}.`,
    since: null,
    remedy:
      "Rejected messages are listed under Set-up, with reason and sample. Fix the sender; the counts then stop rising.",
  };
}
