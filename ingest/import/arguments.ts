import { type ImportPlan, type ImportTarget, importPlan, TIME_FORMATS, TWICE } from "#core/importing/plan.ts";
import { readOptions, recordedFile } from "../options/given-options.ts";
import { ImportError } from "./import-error.ts";

export type ImportArguments =
  | { readonly do: "list" }
  | { readonly do: "withdraw"; readonly id: string; readonly reason: string }
  | {
      readonly do: "import";
      readonly file: string;
      /** False: only say what would be stored. */
      readonly store: boolean;
      /** `zone` may be "site": that of the systems named. */
      readonly plan: ImportPlan;
    };

export const USAGE = `Usage:
  npm run import -- FILE.csv --time COLUMN --map COLUMN=system/point/quantity:unit [options]
  npm run import -- --list
  npm run import -- --withdraw ID --reason TEXT

Imports history from a CSV file into the store that the settings name (HOMEWATER_DATA, HOMEWATER_DATABASE_URL).
Without --yes nothing is stored: it prints what would be stored, what is already there, what conflicts and what is
refused, with line numbers, and the range of each column. With --yes it stores; if it is stopped, the same command
continues where it stopped.

  --yes              store, instead of only saying what would be stored
  --list             list the imports so far
  --withdraw ID      leave an import's rows out everywhere; nothing is deleted, and the file can be imported again
  --reason TEXT      why it is withdrawn; kept in the audit trail

  --time COLUMN      column with date and time; twice, if the date and the time are in two columns
  --format F         ${TIME_FORMATS.join(", ")} (default: iso, as in 2024-03-31 14:05)
  --zone Z           zone of times without an offset: Z, -07:00, Europe/London, or site (the zone of the systems' site)
  --twice T          which one is meant when a clock time comes twice in autumn: ${TWICE.join(", ")}
                     (default: refuse; order: as the rows follow each other)
  --map C=s/p/q:u    column C holds quantity q at point p of system s, in unit u (default: the registry's unit)
  --long N --value V a long file: column N names what a row is about, column V holds the value; if several columns name
                     it, repeat --long and join the names with /; --map then takes NAME=s/p/q:u
  --delimiter D      default: comma; tab for a tab character
  --decimal D        decimal sign, . (default) or ,
  --encoding E       utf-8 (default) or windows-1252
  --heading N        line number of the heading (default: 1)
  --missing TEXT     text that means no value, besides an empty cell; may be repeated

Example:
  npm run import -- sonde-2017.csv --time t --zone -07:00 --map temp=river-giants/display/temperature:Cel`;

const VALUES = [
  "time",
  "format",
  "zone",
  "twice",
  "map",
  "long",
  "value",
  "delimiter",
  "decimal",
  "encoding",
  "heading",
  "missing",
  "withdraw",
  "reason",
] as const;

/** Reads the command line. Throws ImportError naming the argument and what to write. */
export function readArguments(argv: readonly string[]): ImportArguments {
  const known = {
    values: VALUES,
    switches: ["yes", "list"],
    usage: USAGE,
    refuse: (says: string) => new ImportError(says),
  } as const;
  const given = readOptions(argv, known);
  const { all, one, has } = given;
  if (has("list")) return { do: "list" };
  const id = one("withdraw");
  if (id !== null) {
    const reason = one("reason");
    if (reason === null)
      throw new ImportError(
        "--reason is missing: say why the import is withdrawn; the audit trail keeps it.",
      );
    return { do: "withdraw", id, reason };
  }
  const { file, times, maps: typed } = recordedFile(given, known);
  const maps = typed.map(mapOf);
  const long = all("long");
  const value = one("value");
  if (long.length > 0 !== (value !== null))
    throw new ImportError("--long and --value belong together: give both or neither.");
  const delimiter = one("delimiter") ?? ",";
  const parsed = importPlan.safeParse({
    encoding: one("encoding") ?? "utf-8",
    delimiter: delimiter === "tab" ? "\t" : delimiter,
    decimal: one("decimal") ?? ".",
    headingLine: Number(one("heading") ?? 1),
    time: {
      columns: times,
      format: one("format") ?? "iso",
      zone: one("zone"),
      twice: one("twice") ?? "refuse",
    },
    missing: all("missing"),
    layout:
      value === null
        ? { kind: "wide", columns: maps.map(({ name, target }) => ({ column: name, target })) }
        : { kind: "long", name: long, value, targets: maps },
  });
  if (parsed.success) return { do: "import", file, store: has("yes"), plan: parsed.data };
  const issue = parsed.error.issues[0];
  throw new ImportError(`${issue?.path.join(" ")}: ${issue?.message}.\n\n${USAGE}`);
}

function mapOf(text: string): { readonly name: string; readonly target: ImportTarget } {
  const [, name, system, point, quantity, unit] =
    /^(.+)=([^=/:]+)\/([^=/:]+)\/([^=/:]+)(?::(.+))?$/s.exec(text) ?? [];
  if (name === undefined || system === undefined || point === undefined || quantity === undefined)
    throw new ImportError(`--map is "${text}": write COLUMN=system/point/quantity:unit.`);
  return { name, target: { system, point, quantity, unit: unit ?? null } };
}
