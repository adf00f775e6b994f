import { faultText } from "#core/faults/fault.ts";
import { unknownQuantity } from "#core/gateway/index.ts";
import { offsetMinutes } from "#core/time/time-text.ts";
import { canonicalUnit, isQuantityId, QUANTITIES, type QuantityId, stateIndex } from "#core/units/index.ts";
import { readOptions, recordedFile } from "../options/given-options.ts";
import { columnIndex } from "../replay/columns.ts";
import { ReplayError } from "../replay/replay-error.ts";

export interface RehearseArguments {
  readonly file: string;
  readonly timeColumn: string;
  readonly maps: readonly string[];
  readonly twins: readonly string[];
  readonly offset: string;
  readonly settings: string | null;
}

export const USAGE = `Usage: npm run -s rehearse -- FILE.csv --time COLUMN --map COLUMN=quantity:unit [options]

Runs the evaluator over a recorded CSV file, without a server, and prints what it would have found: one JSON object a
line, in the order of raising. Nothing printed about a moment depends on later rows.

  --time COLUMN       column with date and time
  --map C=q:u         column C holds quantity q in unit u (default: the registry's unit); may be repeated
  --twin C=D          the probe of column C hangs in the same water as the probe of column D
  --offset -07:00     offset of times that have none, and of the site's days (default: Z)
  --settings FILE     JSON file with zone, water, volume (m3), elevation (m), youngFilter (true: not mature), and streams
                      by column: intervalSeconds, critical, role (of its point, such as contact-chamber;
                      default: guessed from the name), tolerance (above 1: more of its steps and days is tolerated),
                      band (low, high, actionLow, actionHigh, urgentLow, urgentHigh, in the registry's unit)

Example:
  npm run -s rehearse -- sonde.csv --time t --offset -07:00 --map temp=temperature:Cel --map ph=ph --map ph2=ph --twin ph2=ph`;

/** Reads the command line. Throws ReplayError naming the argument and what to write. */
export function readRehearseArguments(argv: readonly string[]): RehearseArguments {
  const known = {
    values: ["time", "map", "twin", "offset", "settings"],
    usage: USAGE,
    refuse: (says: string) => new ReplayError(says),
  } as const;
  const given = readOptions(argv, known);
  const { file, maps } = recordedFile(given, known);
  const offset = given.one("offset") ?? "Z";
  if (offsetMinutes(offset) === undefined)
    throw new ReplayError(`--offset is "${offset}": write Z or one like -07:00.`);
  return {
    file,
    timeColumn: given.one("time") ?? "",
    maps,
    twins: given.all("twin"),
    offset,
    settings: given.one("settings"),
  };
}

export interface MappedColumn {
  readonly index: number;
  readonly name: string;
  readonly quantity: QuantityId;
  /** The stored value of a cell, in the registry's unit; null where it cannot be read. */
  valueOf(cell: string): number | null;
}

const NUMBER = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/;

/** Reads one `COLUMN=quantity:unit`. Throws ReplayError naming what is wrong and what to write. */
export function readRehearseMap(text: string, header: readonly string[]): MappedColumn {
  const [, name = "", id = "", unit] = /^(.+)=([^=/:]+)(?::(.+))?$/s.exec(text) ?? [];
  if (name === "") throw new ReplayError(`--map is "${text}": write COLUMN=quantity:unit.`);
  const index = columnIndex(header, name);
  if (!isQuantityId(id)) throw new ReplayError(`--map "${text}": ${faultText(unknownQuantity(id))}.`);
  const spec = QUANTITIES[id];
  if (spec.kind === "state") {
    if (unit !== undefined)
      throw new ReplayError(`--map "${text}": ${id} is a state and has no unit, leave ":${unit}" out.`);
    return { index, name, quantity: id, valueOf: (cell) => stateIndex(spec, cell) ?? null };
  }
  const conversion = unit === undefined || unit === spec.unit ? undefined : canonicalUnit(id, unit);
  if (conversion === undefined && unit !== undefined && unit !== spec.unit)
    throw new ReplayError(
      `--map "${text}": "${unit}" does not convert exactly to ${spec.unit}, the unit of ${id}.`,
    );
  return {
    index,
    name,
    quantity: id,
    valueOf(cell) {
      const value = NUMBER.test(cell) ? Number(cell) : Number.NaN;
      if (!Number.isFinite(value)) return null;
      return conversion ? value * conversion.factor + conversion.offset : value;
    },
  };
}

/** Reads one `COLUMN=COLUMN`, both of which must be mapped, to one quantity. Throws ReplayError. */
export function readTwin(text: string, columns: readonly MappedColumn[]): readonly [string, string] {
  const found = columns.flatMap((own) =>
    columns
      .filter((other) => text === `${own.name}=${other.name}` && own !== other)
      .map((other) => [own, other] as const),
  );
  const [pair] = found;
  if (!pair)
    throw new ReplayError(`--twin is "${text}": write COLUMN=COLUMN of two columns that are mapped.`);
  if (pair[0].quantity !== pair[1].quantity)
    throw new ReplayError(`--twin "${text}": one holds ${pair[0].quantity}, the other ${pair[1].quantity}.`);
  return [pair[0].name, pair[1].name];
}
