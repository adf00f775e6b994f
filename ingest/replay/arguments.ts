import { offsetMinutes } from "../../lib/core/wire/index.ts";
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

export const USAGE = `Sends the records of a CSV file to Homewater's broker.

npm run replay -- FILE.csv --time COLUMN --map COLUMN=system/point/quantity:unit [--map ...]

  --time COLUMN      column of date and time
  --map C=s/p/q:u    column C holds quantity q at point p of system s, in unit u (the registry's unit where :u is left out)
  --speed N|max      N times the records' own pace; max (default): as fast as they are taken
  --offset -07:00    offset of times that carry none (default Z)
  --keep-times       keep the records' own times: recorded data, never current. Without it all times are moved together so
                     that the last record is now
  --site NAME        default pennacombe
  --url --user --password   the broker; default: the settings (HOMEWATER_MQTT_...) or the running demo
  --http URL         the dashboard whose counters are read for the summary; default: the settings or the running demo`;

const VALUES = ["time", "map", "speed", "offset", "site", "url", "user", "password", "http"] as const;
type Name = (typeof VALUES)[number];

/**
 * Reads the command line. A value may begin with a hyphen (an offset west of Greenwich does), which is why the usual parser does
 * not serve. Throws ReplayError naming the argument and what to write.
 */
export function readArguments(argv: readonly string[]): ReplayArguments {
  const given = new Map<Name, string[]>();
  const files: string[] = [];
  let keepTimes = false;
  const words = argv.values();
  for (const word of words) {
    if (!word.startsWith("--")) {
      files.push(word);
      continue;
    }
    const [, name = "", , inline] = /^--([^=]*)(=(.*))?$/s.exec(word) ?? [];
    if (name === "keep-times" && inline === undefined) {
      keepTimes = true;
      continue;
    }
    const known = VALUES.find((one) => one === name);
    if (known === undefined) throw new ReplayError(`--${name} is not known.\n\n${USAGE}`);
    const value = inline ?? words.next().value;
    if (value === undefined || value === "") throw new ReplayError(`--${name} has no value.\n\n${USAGE}`);
    given.set(known, [...(given.get(known) ?? []), value]);
  }
  const one = (name: Name): string | null => {
    const values = given.get(name) ?? [];
    if (values.length > 1) throw new ReplayError(`--${name} is given ${values.length} times: give it once.`);
    return values[0] ?? null;
  };
  const [file] = files;
  if (file === undefined || files.length > 1) throw new ReplayError(`Name one CSV file.\n\n${USAGE}`);
  const timeColumn = one("time");
  if (timeColumn === null)
    throw new ReplayError(`--time is missing: name the column of date and time.\n\n${USAGE}`);
  const maps = given.get("map") ?? [];
  if (maps.length === 0)
    throw new ReplayError(`--map is missing: say what at least one column holds.\n\n${USAGE}`);
  const offset = one("offset");
  if (offset !== null && offsetMinutes(offset) === undefined)
    throw new ReplayError(`--offset is "${offset}": write Z or one like -07:00.`);
  return {
    file,
    timeColumn,
    maps,
    speed: speedOf(one("speed")),
    offset: offset ?? "Z",
    isOffsetGiven: offset !== null,
    keepTimes,
    site: one("site") ?? "pennacombe",
    url: one("url"),
    user: one("user"),
    password: one("password"),
    http: one("http"),
  };
}

function speedOf(text: string | null): number {
  if (text === null || text === "max") return Number.POSITIVE_INFINITY;
  const speed = /^\d+(\.\d+)?$/.test(text) ? Number(text) : 0;
  if (speed > 0) return speed;
  throw new ReplayError(`--speed is "${text}": write a number above 0, or max.`);
}
