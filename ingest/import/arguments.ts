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

export const USAGE = `Imports recorded values from a CSV file, with the store's own settings (HOMEWATER_DATA, HOMEWATER_DATABASE_URL).

npm run import -- FILE.csv --time COLUMN --map COLUMN=system/point/quantity:unit [--map ...]     says what would be stored
npm run import -- ... --yes                                                                     stores it; run again it goes on
npm run import -- --list                                                                        imports so far
npm run import -- --withdraw ID --reason TEXT                                                   leaves an import's rows out

  --time COLUMN      column of date and time; given twice: of the date and of the time
  --format F         ${TIME_FORMATS.join(", ")} (default iso: 2024-03-31 14:05)
  --zone Z           of times without an offset: Z, -07:00, Europe/London, or site (the zone of the systems' site)
  --twice T          a clock time that came twice in autumn: ${TWICE.join(", ")} (default refuse; order: as the file runs)
  --map C=s/p/q:u    column C holds quantity q at point p of system s, written in unit u (the registry's where :u is left out)
  --long N --value V a long file: column N (given again: several, joined by /) names what a row is about, column V holds the value;
                     --map then gives NAME=s/p/q:u
  --delimiter D      default comma; tab for a tabulator
  --decimal D        . (default) or ,
  --encoding E       utf-8 (default) or windows-1252
  --heading N        line of the heading (default 1)
  --missing TEXT     a text that stands for no value, besides an empty cell`;

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
        "--reason is missing: say why the import is withdrawn; it stands in the audit trail.",
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
