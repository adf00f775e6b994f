import { setTimeout as sleep } from "node:timers/promises";
import { readSettings, SettingsError, withoutPassword } from "#config/env.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { countText } from "#core/units/figures-text.ts";
import { numberText } from "#core/units/number-text.ts";
import { answersHelp } from "../options/help.ts";
import { type ReplayArguments, readArguments, USAGE } from "./arguments.ts";
import { type Column, readMap } from "./columns.ts";
import { connectionOf, type ServerCounts, serverCounts } from "./connection.ts";
import { ReplayError } from "./replay-error.ts";
import { type FileOutline, outlineOf, rowsInOrder } from "./rows.ts";
import { openSender, type Sender } from "./sender.ts";

export interface ReplayEnvironment {
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly clock: () => Instant;
  /** One line each. */
  readonly out: (line: string) => void;
  readonly progress: (line: string) => void;
}
interface Tally {
  rows: number;
  cells: number;
  empty: number;
  unreadable: number;
  firstUnreadable: string | null;
}

/** Later readings than this before receipt are kept but marked: see the contract of readings. */
const LIVE_DAYS = 30;

/** Replays a file; resolves with the process's exit code: 0, or 1 with a sentence on `progress`. */
export async function replay(argv: readonly string[], around: ReplayEnvironment): Promise<number> {
  if (answersHelp(argv, USAGE, around.out)) return 0;
  try {
    await replayFile(readArguments(argv), around);
    return 0;
  } catch (error) {
    if (!(error instanceof ReplayError) && !(error instanceof SettingsError)) throw error;
    around.progress(error.message);
    return 1;
  }
}

async function replayFile(args: ReplayArguments, around: ReplayEnvironment): Promise<void> {
  const connection = await connectionOf(args, readSettings(around.environment));
  const outline = await outlineOf(args.file, args.timeColumn, args.offset);
  const columns = args.maps.map((map) => readMap(map, outline.header, args.site));
  const before = await serverCounts(connection);
  const sender = await openSender(connection.url, connection.user, connection.password);
  const tally: Tally = { rows: 0, cells: 0, empty: 0, unreadable: 0, firstUnreadable: null };
  const began = performance.now();
  const saying = setInterval(
    () =>
      around.progress(
        `${countText(tally.rows)} of ${countText(outline.rows)} rows, ${countText(tally.cells)} cells sent, ${countText(sender.unacknowledged())} not yet acknowledged`,
      ),
    1_000,
  );
  try {
    await sendRows(args, outline, columns, sender, tally, around.clock);
    await sender.finish();
  } finally {
    clearInterval(saying);
    await sender.close();
  }
  const seconds = (performance.now() - began) / 1_000;
  const after = await serverCounts(connection);
  for (const line of summary(args, outline, tally, seconds, sender, withoutPassword(connection.url)))
    around.out(line);
  around.out(fates(before, after));
}

async function sendRows(
  args: ReplayArguments,
  outline: FileOutline,
  columns: readonly Column[],
  sender: Sender,
  tally: Tally,
  clock: () => Instant,
): Promise<void> {
  const span = outline.last - outline.first;
  const start = performance.now();
  // The last record is sent at its own moved time; none is ever ahead of the clock.
  const shift = args.keepTimes ? 0 : clock() + Math.round(span / Math.max(args.speed, 1)) - outline.last;
  for await (const row of rowsInOrder(args.file, args.timeColumn, args.offset, outline)) {
    if (Number.isFinite(args.speed)) {
      const wait = (row.at - outline.first) / args.speed - (performance.now() - start);
      if (wait > 1) await sleep(wait);
    }
    for (const column of columns) {
      const cell = (row.cells[column.index] ?? "").trim();
      if (cell === "") {
        tally.empty += 1;
        continue;
      }
      const value = column.valueOf(cell);
      if (value === null) {
        tally.unreadable += 1;
        tally.firstUnreadable ??= `"${cell.slice(0, 40)}" in ${column.name} at ${new Date(row.at).toISOString()}`;
        continue;
      }
      await sender.send(column.topic, payloadOf(row.at + shift, value, column.unit, args.keepTimes));
      tally.cells += 1;
    }
    tally.rows += 1;
  }
}

function payloadOf(at: Instant, value: number | string, unit: string | null, isHistory: boolean): string {
  return JSON.stringify({
    at,
    value,
    ...(unit === null ? {} : { unit }),
    ...(isHistory ? { history: true } : {}),
  });
}

function summary(
  args: ReplayArguments,
  outline: FileOutline,
  tally: Tally,
  seconds: number,
  sender: Sender,
  url: string,
): string[] {
  const iso = (at: Instant) => new Date(at).toISOString();
  const days = (outline.last - outline.first) / DAY;
  const lines = [
    `${args.file}: ${countText(tally.rows)} rows from ${iso(outline.first)} to ${iso(outline.last)}; times without an offset taken as ${args.offset}${args.isOffsetGiven ? "" : " (--offset was not given)"}`,
    args.keepTimes
      ? "times kept: stored at the recorded times as history, never shown as current"
      : "all times shifted so that the last row is now",
    `${countText(tally.cells)} cells sent to ${url} and acknowledged in ${numberText(seconds, 1)} s; ${countText(tally.empty)} empty cells left out`,
  ];
  if (!outline.isInOrder) lines.push("the file was not in order of time; its rows were sorted");
  if (!args.keepTimes && days > LIVE_DAYS)
    lines.push(
      `the rows span ${numberText(days, 0)} days: those more than ${LIVE_DAYS} days back are kept and marked, and never shown as current`,
    );
  if (tally.unreadable > 0)
    lines.push(
      `${countText(tally.unreadable)} cells could not be read and were not sent; the first: ${tally.firstUnreadable}`,
    );
  if (sender.reconnections() > 0)
    lines.push(
      `the connection was lost and restored ${countText(sender.reconnections())} times; what was not acknowledged was sent again`,
    );
  return lines;
}

function fates(before: ServerCounts | string, after: ServerCounts | string): string {
  if (typeof before === "string" || typeof after === "string")
    return `accepted, duplicate, rejected: not known, ${typeof after === "string" ? after : before}`;
  const change = (name: keyof ServerCounts) => countText(after[name] - before[name]);
  return `accepted ${change("readings")}, duplicate ${change("duplicates")}, conflicting ${change("conflicts")}, rejected ${change("rejected")}, unclaimed ${change("unclaimed")} (from the server's counters during this time, other senders included)`;
}
