/** A profile as a file: JSON of our own published form, or CSV with one entry a row. */
import Papa from "papaparse";
import * as z from "zod";
import { type ProfileFile, profileEntryForm, profileFile } from "#contract/habitat.ts";

export const PROFILE_COLUMNS = Object.keys(profileEntryForm.shape) as (keyof typeof profileEntryForm.shape)[];
const NUMBERS: readonly string[] = ["month", "low", "typical", "high"];

interface Fault {
  readonly field: string;
  readonly says: string;
  readonly remedy: string;
}
export type ReadProfiles =
  | {
      readonly ok: true;
      readonly species: ProfileFile["species"] | null;
      readonly profiles: ProfileFile["profiles"];
    }
  | { readonly ok: false; readonly issues: readonly Fault[] };

const faultsOf = (error: z.ZodError, under: string, remedy: string): Fault[] =>
  error.issues.map((issue) => ({
    field: [under, ...issue.path].filter((part) => part !== "").join("."),
    says: issue.message,
    remedy,
  }));

/** Reads a profile file of our published form. */
export function profileFromJson(text: string): ReadProfiles {
  let sent: unknown;
  try {
    sent = JSON.parse(text);
  } catch (error) {
    return {
      ok: false,
      issues: [
        {
          field: "text",
          says: `is not JSON: ${String(error)}`,
          remedy: "export a profile to see the format",
        },
      ],
    };
  }
  const read = profileFile.safeParse(sent);
  if (!read.success)
    return { ok: false, issues: faultsOf(read.error, "text", "see /api/v1/profiles/schema.json") };
  return { ok: true, species: read.data.species, profiles: read.data.profiles };
}

function cell(column: string, value: string | undefined): unknown {
  const text = value?.trim() ?? "";
  if (text === "") return column === "source" || column === "quantity" ? "" : null;
  // A comma as decimal sign is not a number here: it would be read as two columns or as thousands.
  return NUMBERS.includes(column) && /^-?\d+(\.\d+)?$/.test(text) ? Number(text) : text;
}

/** Reads entries from CSV: a first row naming the columns of an export, in any order; empty cells are not said. */
export function profileFromCsv(text: string, population: string | null): ReadProfiles {
  const parsed = Papa.parse<Record<string, string>>(text.replace(/^\uFEFF/, ""), {
    header: true,
    skipEmptyLines: "greedy",
  });
  const columns = parsed.meta.fields ?? [];
  const known = columns.filter((column) => (PROFILE_COLUMNS as readonly string[]).includes(column));
  const unknown = columns.filter((column) => !(PROFILE_COLUMNS as readonly string[]).includes(column));
  const issues: Fault[] = unknown.map((column) => ({
    field: "text",
    says: `column "${column}" is not a column of a profile`,
    remedy: `use ${PROFILE_COLUMNS.join(", ")}`,
  }));
  for (const error of parsed.errors)
    if (error.type !== "Delimiter")
      issues.push({ field: `row ${(error.row ?? 0) + 2}`, says: error.message, remedy: "correct the row" });
  const rows = parsed.data.map((row) =>
    Object.fromEntries(known.map((column) => [column, cell(column, row[column])])),
  );
  const entries = rows.flatMap((row, i) => {
    const read = profileEntryForm.safeParse(row);
    if (read.success) return [read.data];
    issues.push(...faultsOf(read.error, `row ${i + 2}`, "correct the cell"));
    return [];
  });
  if (rows.length === 0)
    issues.push({ field: "text", says: "has no rows", remedy: "export a profile to see the format" });
  if (issues.length > 0) return { ok: false, issues };
  return { ok: true, species: null, profiles: [{ population, latitude: null, longitude: null, entries }] };
}

/** The entries of one profile as CSV. Text that a spreadsheet would take for a formula gets a leading apostrophe. */
export function profileToCsv(entries: ProfileFile["profiles"][number]["entries"]): string {
  const data = entries.map((entry) => PROFILE_COLUMNS.map((column) => entry[column] ?? ""));
  return `${Papa.unparse({ fields: [...PROFILE_COLUMNS], data }, { escapeFormulae: /^[=+@\t\r]/, newline: "\n" })}\n`;
}

/** The published JSON schema of a profile file. */
export const profileSchema = (): object => ({
  $id: "/api/v1/profiles/schema.json",
  title: "Homewater profile, version 1",
  ...z.toJSONSchema(profileFile, { io: "input" }),
});
