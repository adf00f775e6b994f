/**
 * What the detectors find in labelled records, run through `rehearse` with the product's defaults: recall by starts, false calls a week, time
 * in alarm, chance and controls, beside simple detectors; the curve of recall against false calls; faults added beside a twin.
 */
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { rehearse } from "#ingest/rehearse/run.ts";
import { type BenchOptions, type BenchRow, steadyRandom } from "../bench-row.ts";
import {
  drinkingWater,
  HOW_TO_GET,
  injected,
  injectedFile,
  type RecordFile,
  recordsFolder,
  rivers,
} from "../drift-records.ts";
import { type Call, type LabelledRecord, type Scores, scoresOf } from "../drift-score.ts";

export const name = "drift";

const ROOT = join(import.meta.dirname, "../../..");
const DAY = 86_400_000;
const WEEK = 7 * DAY;
const TOLERANCES = [0.6, 0.8, 1.25, 1.6, 2] as const;

interface Found extends Call {
  readonly kind: string;
  readonly interrupts: boolean;
}

async function rehearsed(argv: readonly string[]): Promise<Found[]> {
  const lines: string[] = [];
  const complaints: string[] = [];
  const code = await rehearse(argv, { out: (l) => lines.push(l), complain: (l) => complaints.push(l) });
  if (code !== 0) throw new Error(complaints.join(" "));
  return lines.map((line) => {
    const found = JSON.parse(line) as Record<"stream" | "kind" | "raised", string> & {
      cleared: string | null;
      interrupts: boolean;
    };
    const { stream, kind, interrupts } = found;
    const end = found.cleared === null ? Number.POSITIVE_INFINITY : Date.parse(found.cleared);
    return { stream, kind, interrupts, start: Date.parse(found.raised), end };
  });
}

async function runAll(
  records: readonly RecordFile[],
  tolerance: number,
): Promise<Map<LabelledRecord, Found[]>> {
  const folder = await mkdtemp(join(tmpdir(), "drift-"));
  try {
    const found = new Map<LabelledRecord, Found[]>();
    for (const record of records) {
      const settings = join(folder, "settings.json");
      const streams = Object.fromEntries(record.streams.map((stream) => [stream, { tolerance }]));
      await writeFile(settings, JSON.stringify({ streams }));
      const maps = Object.entries(record.maps).flatMap(([column, map]) => ["--map", `${column}=${map}`]);
      found.set(record, await rehearsed([record.file, "--time", "t", ...maps, "--settings", settings]));
    }
    return found;
  } finally {
    await rm(folder, { recursive: true });
  }
}

const always = (record: LabelledRecord): Call[] =>
  record.streams.map((stream) => ({ stream, start: record.from, end: Number.POSITIVE_INFINITY }));

function random(record: LabelledRecord): Call[] {
  const next = steadyRandom(7);
  const span = (record.t.at(-1) ?? 0) - record.from;
  return Array.from({ length: Math.round((5 * span) / WEEK) }, () => {
    const start = record.from + next() * span;
    return { stream: record.streams[0] ?? "", start, end: start };
  });
}

function line(what: string, s: Scores): string {
  const n = (value: number, digits: number) => (Number.isFinite(value) ? value.toFixed(digits) : "–");
  return `| ${what} | ${n(s.recall, 2)} | ${n(s.chance, 2)} | ${n(s.falseAWeek, 2)} | ${n(100 * s.inAlarm, 2)} % | ${n(s.delayMinutes, 0)} |`;
}

const HEAD =
  "| detector | recall | chance | false a week | time in alarm a stream | delay min |\n| --- | --- | --- | --- | --- | --- |";

async function baselines(kind: "rivers" | "drinkingWater"): Promise<string[]> {
  const path = join(ROOT, "fixtures/check-values/drift-baselines.json");
  const file = JSON.parse(await readFile(path, "utf8")) as Record<typeof kind, (string | number | null)[][]>;
  return file[kind].map(
    ([what, recall, chance, wrong, inAlarm, delay]) =>
      `| ${what} (measured before) | ${recall} | ${chance} | ${wrong} | ${inAlarm} % | ${delay ?? "–"} |`,
  );
}

interface Wanted {
  readonly recall: number;
  readonly falseAWeek: number;
}

async function score(
  kind: "rivers" | "drinkingWater",
  records: readonly RecordFile[],
  wanted: Wanted,
  { say, scale }: BenchOptions,
): Promise<BenchRow[]> {
  const found = await runAll(records, 1);
  const ours = scoresOf(records, (record) => found.get(record) ?? []);
  const calling = scoresOf(records, (record) => (found.get(record) ?? []).filter((each) => each.interrupts));
  const table = [
    `${kind}: ${ours.events} events`,
    HEAD,
    line("ours, all findings", ours),
    line("ours, those that interrupt", calling),
    ...(await baselines(kind)),
    line("always on", scoresOf(records, always)),
    line(
      "never on",
      scoresOf(records, () => []),
    ),
    line("random, 5 a week", scoresOf(records, random)),
  ];
  const kinds = new Set([...found.values()].flat().map((each) => each.kind));
  for (const each of kinds)
    table.push(
      line(
        `of ours: ${each}`,
        scoresOf(records, (r) => (found.get(r) ?? []).filter((f) => f.kind === each)),
      ),
    );
  for (const tolerance of scale < 1 ? [] : TOLERANCES) {
    const other = await runAll(records, tolerance);
    table.push(
      line(
        `curve: thresholds times ${tolerance}`,
        scoresOf(records, (record) => other.get(record) ?? []),
      ),
    );
  }
  say(table.join("\n"));
  const row = (what: string, value: number, unit: string, target: BenchRow["target"]): BenchRow => ({
    what: `${kind}: ${what}`,
    unit,
    ours: value,
    reference: null,
    referenceIs: "",
    target,
  });
  return [
    row("recall", ours.recall, "", { of: "ours", atLeast: wanted.recall }),
    row("recall by chance", ours.chance, "", null),
    row("false a site-week", ours.falseAWeek, "", { of: "ours", atMost: wanted.falseAWeek }),
    row("time in alarm outside events", 100 * ours.inAlarm, "%", { of: "ours", atMost: 2 }),
    row("recall of what interrupts", calling.recall, "", null),
    row("false interruptions a site-week", calling.falseAWeek, "", null),
  ];
}

const QUANTITY_OF: Readonly<Record<string, string>> = {
  temp: "temperature",
  ph: "ph",
  orp: "orp",
  cond: "specific_conductance",
};
const TWINNED = ["drift-slow", "drift-fast", "step"] as const;
const UNTOUCHED = ["spikes", "noise", "attenuated"] as const;

/** Faults added to one of two probes: found by their difference after they began, and nothing before. */
async function twins(folder: string, { say }: BenchOptions): Promise<BenchRow[]> {
  const labels = injected(folder);
  const delays: Record<string, number[]> = {};
  let early = 0;
  for (const channel of Object.keys(QUANTITY_OF)) {
    const kinds = [...TWINNED, ...UNTOUCHED];
    const argv = [injectedFile(folder), "--time", "t", "--map", `d-${channel}-none=${QUANTITY_OF[channel]}`];
    for (const kind of kinds)
      argv.push(
        "--map",
        `d-${channel}-${kind}=${QUANTITY_OF[channel]}`,
        "--twin",
        `d-${channel}-${kind}=d-${channel}-none`,
      );
    const found = (await rehearsed(argv)).filter((each) => each.kind === "disagreeing");
    for (const each of found) {
      const label = labels.find((one) => one.series === each.stream);
      if (!label || each.start < label.start) early++;
    }
    for (const kind of TWINNED) {
      const label = labels.find((one) => one.series === `d-${channel}-${kind}`);
      const hit = found.find((each) => each.stream === label?.series && each.start >= (label?.start ?? 0));
      if (label && hit) delays[kind] = [...(delays[kind] ?? []), (hit.start - label.start) / DAY];
    }
  }
  const middle = (values: readonly number[] = []) => [...values].sort((a, b) => a - b)[values.length >> 1];
  for (const kind of TWINNED)
    say(
      `twin, ${kind}: ${delays[kind]?.length ?? 0} of 4, median ${middle(delays[kind])?.toFixed(1)} days (measured before with daily medians: 4 of 4)`,
    );
  say(`twin, false starts: ${early}`);
  return TWINNED.map((kind) => ({
    what: `twin probe, ${kind} found`,
    unit: "of 4",
    ours: delays[kind]?.length ?? 0,
    reference: 4,
    referenceIs: "daily medians and CUSUM 0.5 / 5",
    target: { of: "ours", atLeast: 4 },
  }));
}

export async function run(options: BenchOptions): Promise<BenchRow[]> {
  const folder = recordsFolder(options.data, ROOT);
  if (folder === null) {
    options.say(HOW_TO_GET);
    const missing = { unit: "", ours: null, reference: null, referenceIs: "", target: null };
    return [{ what: "labelled records", ...missing, note: "not found: give their folder with --data" }];
  }
  return [
    ...(await score("rivers", rivers(folder), { recall: 0.85, falseAWeek: 2 }, options)),
    ...(await score("drinkingWater", drinkingWater(folder), { recall: 0.9, falseAWeek: 6 }, options)),
    ...(await twins(folder, options)),
  ];
}
