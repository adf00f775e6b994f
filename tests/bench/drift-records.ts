/** The labelled records the detectors are scored on, where somebody has them: they are not ours to carry along. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { LabelledRecord } from "./drift-score.ts";

const [MINUTE, HOUR, DAY] = [60_000, 3_600_000, 86_400_000] as const;

export interface RecordFile extends LabelledRecord {
  readonly file: string;
  /** By column: what it holds, as `rehearse` is told. */
  readonly maps: Readonly<Record<string, string>>;
}

const RIVERS = ["lro-blacksmithfork-2015.csv", "lro-waterlab-2019.csv"] as const;
const LINE = "gecco2018-train-slice.csv";
const INJECTED = "injected-dev.csv";

/** The folder that holds the records: as given, or a `drift-data` in the project, beside it or in a folder beside it. */
export function recordsFolder(given: string | null, root: string): string | null {
  const beside = join(root, "..");
  const candidates =
    given !== null
      ? [given]
      : [root, beside, ...readdirSync(beside).map((name) => join(beside, name))].map((folder) =>
          join(folder, "drift-data"),
        );
  return candidates.find((folder) => existsSync(join(folder, RIVERS[0]))) ?? null;
}

export const HOW_TO_GET = `No labelled records were found: give their folder with --data. They are ${RIVERS.join(", ")} (river sondes of the
Logan River Observatory as carried by pyhydroqc, github.com/AmberSJones/pyhydroqc, BSD-3-Clause; columns t, temp, cond, ph, do and
temp_q ... with the technician's code), ${LINE} (drinking-water line of the GECCO 2018 challenge as carried by the R package
EventDetectR, GPL-3; columns t, temp, ph, orp, cond, turb, cl, cl2, event) and ${INJECTED} with its labels (faults added to the latter).`;

interface Table {
  readonly t: readonly number[];
  readonly columns: Readonly<Record<string, readonly string[]>>;
}

function readTable(file: string): Table {
  const [head = "", ...rows] = readFileSync(file, "utf8").trim().split("\n");
  const names = head.trim().split(",");
  const cells = rows.map((row) => row.trim().split(","));
  const columns = Object.fromEntries(names.map((name, i) => [name, cells.map((row) => row[i] ?? "")]));
  return { t: cells.map((row) => Date.parse(`${row[0]}:00Z`)), columns };
}

function eventsWhere(t: readonly number[], isEvent: (i: number) => boolean): [number, number][] {
  const events: [number, number][] = [];
  for (let i = 0; i < t.length; i++) {
    if (!isEvent(i)) continue;
    if (i > 0 && isEvent(i - 1)) (events.at(-1) as [number, number])[1] = t[i] as number;
    else events.push([t[i] as number, t[i] as number]);
  }
  return events;
}

/** River sondes: 15 minutes, an event where any of the four channels was labelled. */
export function rivers(folder: string): RecordFile[] {
  const maps = {
    temp: "temperature:Cel",
    cond: "specific_conductance:uS/cm",
    ph: "ph",
    do: "dissolved_oxygen:mg/L",
  };
  return RIVERS.map((name) => {
    const { t, columns } = readTable(join(folder, name));
    const streams = Object.keys(maps);
    const events = eventsWhere(t, (i) => streams.some((stream) => columns[`${stream}_q`]?.[i] !== ""));
    const file = join(folder, name);
    return { name, file, maps, t, streams, events, lead: 15 * MINUTE, tolerance: HOUR, from: t[0] ?? 0 };
  });
}

/** The drinking-water line: one minute, two days for learning, fourteen scored. */
export function drinkingWater(folder: string): RecordFile[] {
  const maps = {
    temp: "temperature:Cel",
    ph: "ph",
    orp: "orp:mV",
    cond: "specific_conductance:uS/cm",
    turb: "turbidity:NTU",
    cl: "chlorine:mg/L",
    cl2: "total_chlorine:mg/L",
  };
  const file = join(folder, LINE);
  const { t, columns } = readTable(file);
  const events = eventsWhere(t, (i) => columns.event?.[i] === "1");
  const from = (t[0] ?? 0) + 2 * DAY;
  return [
    {
      name: LINE,
      file,
      maps,
      t,
      streams: Object.keys(maps),
      events,
      lead: MINUTE,
      tolerance: 10 * MINUTE,
      from,
    },
  ];
}

export interface Injected {
  readonly series: string;
  readonly kind: string;
  readonly start: number;
  readonly end: number;
}
export const injectedFile = (folder: string): string => join(folder, INJECTED);

/** Faults added to an untouched series: which, from when to when. */
export function injected(folder: string): Injected[] {
  const [, ...rows] = readFileSync(join(folder, "injected-dev-labels.csv"), "utf8").trim().split("\n");
  return rows.map((row) => {
    const [series = "", kind = "", start = "", end = ""] = row.split(",");
    return { series, kind, start: Date.parse(`${start}:00Z`), end: Date.parse(`${end}:00Z`) };
  });
}
