import type { EvaluatorFacts, StreamFacts } from "#core/evaluate/facts.ts";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import {
  createRehearsal,
  type Rehearsal,
  type Rehearsed,
  wouldInterrupt,
} from "#services/evaluate/rehearse-record.ts";
import { answersHelp } from "../options/help.ts";
import { ReplayError } from "../replay/replay-error.ts";
import { outlineOf, rowsInOrder } from "../replay/rows.ts";
import {
  type MappedColumn,
  type RehearseArguments,
  readRehearseArguments,
  readRehearseMap,
  readTwin,
  USAGE,
} from "./arguments.ts";
import { edgesOf, type RehearsalSettings, readRehearsalSettings } from "./settings-file.ts";

export interface RehearseEnvironment {
  /** One line each. */
  readonly out: (line: string) => void;
  readonly complain: (line: string) => void;
}

/** Rehearses a file; resolves with the process's exit code: 0, or 1 with a sentence on `complain`. */
export async function rehearse(argv: readonly string[], around: RehearseEnvironment): Promise<number> {
  if (answersHelp(argv, USAGE, around.out)) return 0;
  try {
    const args = readRehearseArguments(argv);
    for (const finding of await rehearseFile(args, around.complain)) around.out(JSON.stringify(finding));
    return 0;
  } catch (error) {
    if (!(error instanceof ReplayError)) throw error;
    around.complain(error.message);
    return 1;
  }
}

const SYSTEM = "rehearsal";
/** If the water's volume is not given: a pool that is not small. */
const VOLUME = 100;

function factsOf(
  args: RehearseArguments,
  columns: readonly MappedColumn[],
  settings: RehearsalSettings,
): EvaluatorFacts {
  const twins = new Map(args.twins.map((text) => readTwin(text, columns)));
  const idOf = (name: string | undefined) => columns.findIndex((column) => column.name === name) + 1;
  for (const name of Object.keys(settings.streams ?? {}))
    if (idOf(name) === 0) throw new ReplayError(`--settings: "${name}" is not a mapped column.`);
  const streams = columns.map((column, i): StreamFacts => {
    const choices = settings.streams?.[column.name];
    const twin = twins.get(column.name);
    return {
      id: i + 1,
      system: SYSTEM,
      pointCode: column.name,
      pointRole: choices?.role ?? guessedRole(column.name),
      quantity: column.quantity,
      origin: "probe",
      interval: choices?.intervalSeconds === undefined ? null : choices.intervalSeconds * 1000,
      // Whoever maps a column wants to hear about it.
      critical: choices?.critical ?? true,
      tolerance: choices?.tolerance ?? 1,
      twin: twin === undefined ? null : idOf(twin),
    };
  });
  const bands = columns.flatMap((column) => {
    const band = settings.streams?.[column.name]?.band;
    if (!band) return [];
    return [
      {
        id: `band-${column.name}`,
        system: SYSTEM,
        quantity: column.quantity,
        point: column.name,
        months: [edgesOf(band)],
        validFrom: Number.MIN_SAFE_INTEGER,
        validTo: null,
        recordedAt: 0,
        setBy: "settings file",
        reason: "rehearsal",
        source: "settings file",
      },
    ];
  });
  return {
    system: {
      id: SYSTEM,
      water: settings.water ?? "marine",
      volume: settings.volume ?? VOLUME,
      youngFilter: settings.youngFilter ?? false,
    },
    zone: settings.zone ?? (args.offset === "Z" ? "UTC" : args.offset),
    elevation: settings.elevation ?? 0,
    streams,
    bands,
    plans: [],
  };
}

/** What is printed of one finding. */
export interface RehearsedLine {
  readonly stream: string;
  readonly kind: string;
  readonly interrupts: boolean;
  readonly raised: string;
  readonly cleared: string | null;
  readonly says: string;
  readonly rule: string;
  readonly severity: string;
  readonly began: string;
  readonly ended: string | null;
}

function lineOf(finding: Rehearsed, rehearsal: Rehearsal, columns: readonly MappedColumn[]): RehearsedLine {
  const stream = rehearsal.settings.byId.get(finding.stream);
  const text = (at: number) => new Date(at).toISOString();
  return {
    // A stream that is computed from columns goes by its quantity.
    stream: columns[finding.stream - 1]?.name ?? `${stream?.quantity} of ${stream?.pointCode}`,
    kind: finding.kind,
    interrupts: wouldInterrupt(finding),
    raised: text(finding.raised),
    cleared: finding.cleared === null ? null : text(finding.cleared),
    says: finding.says,
    rule: finding.rule,
    severity: finding.severity,
    began: text(finding.began),
    ended: finding.ended === null ? null : text(finding.ended),
  };
}

/** The findings of a file in order of raising. Throws ReplayError. */
async function rehearseFile(
  args: RehearseArguments,
  complain: (line: string) => void,
): Promise<RehearsedLine[]> {
  const settings = args.settings === null ? {} : await readRehearsalSettings(args.settings);
  const outline = await outlineOf(args.file, args.timeColumn, args.offset);
  const columns = args.maps.map((map) => readRehearseMap(map, outline.header));
  const rehearsal = createRehearsal(factsOf(args, columns, settings));
  let unreadable = 0;
  for await (const row of rowsInOrder(args.file, args.timeColumn, args.offset, outline)) {
    const values: { stream: number; value: number }[] = [];
    for (const [i, column] of columns.entries()) {
      const cell = (row.cells[column.index] ?? "").trim();
      if (cell === "") continue;
      const value = column.valueOf(cell);
      if (value === null) unreadable++;
      else values.push({ stream: i + 1, value });
    }
    rehearsal.take(row.at, values);
  }
  if (unreadable > 0) complain(`${unreadable} cells could not be read and were left out.`);
  return rehearsal.found().map((finding) => lineOf(finding, rehearsal, columns));
}
