import { offsetMinutes } from "#core/time/time-text.ts";
import { readOptions, recordedFile } from "../options/given-options.ts";
import { ReplayError } from "./replay-error.ts";

export interface ReplayArguments {
  readonly file: string;
  readonly timeColumn: string;
  /** As typed: COLUMN=system/point/quantity:unit. */
  readonly maps: readonly string[];
  /** How many times faster than the records' own pace; Infinity = as fast as they are taken. */
  readonly speed: number;
  /** For times without an offset. */
  readonly offset: string;
  readonly isOffsetGiven: boolean;
  readonly keepTimes: boolean;
  readonly site: string;
  readonly url: string | null;
  readonly user: string | null;
  readonly password: string | null;
  readonly http: string | null;
}

export const USAGE = `Usage: npm run replay -- FILE.csv --time COLUMN --map COLUMN=system/point/quantity:unit [options]

Sends the rows of a CSV file to Homewater's broker, as a gateway would.

  --time COLUMN      column with date and time
  --map C=s/p/q:u    column C holds quantity q at point p of system s, in unit u (default: the registry's unit); may be
                     repeated
  --speed N|max      N times as fast as recorded, or max (default): as fast as the broker accepts them
  --offset -07:00    offset of times that have none (default: Z)
  --keep-times       keep the recorded times: stored as history, never shown as current. Without it all times are
                     shifted so that the last row is now
  --site NAME        the site's short name (default: pennacombe)
  --url --user --password   the broker (default: the settings HOMEWATER_MQTT_..., or the running demo)
  --http URL         the dashboard whose counters are read for the summary (default: the settings or the running demo)

Example:
  npm run replay -- sonde.csv --time t --offset -07:00 --map temp=river-giants/display/temperature:Cel`;

/** Reads the command line. Throws ReplayError naming the argument and what to write. */
export function readArguments(argv: readonly string[]): ReplayArguments {
  const known = {
    values: ["time", "map", "speed", "offset", "site", "url", "user", "password", "http"],
    switches: ["keep-times"],
    usage: USAGE,
    refuse: (says: string) => new ReplayError(says),
  } as const;
  const given = readOptions(argv, known);
  const { file, maps } = recordedFile(given, known);
  const offset = given.one("offset");
  if (offset !== null && offsetMinutes(offset) === undefined)
    throw new ReplayError(`--offset is "${offset}": write Z or one like -07:00.`);
  return {
    file,
    timeColumn: given.one("time") ?? "",
    maps,
    speed: speedOf(given.one("speed")),
    offset: offset ?? "Z",
    isOffsetGiven: offset !== null,
    keepTimes: given.has("keep-times"),
    site: given.one("site") ?? "pennacombe",
    url: given.one("url"),
    user: given.one("user"),
    password: given.one("password"),
    http: given.one("http"),
  };
}

function speedOf(text: string | null): number {
  if (text === null || text === "max") return Number.POSITIVE_INFINITY;
  const speed = /^\d+(\.\d+)?$/.test(text) ? Number(text) : 0;
  if (speed > 0) return speed;
  throw new ReplayError(`--speed is "${text}": write a number above 0, or max.`);
}
