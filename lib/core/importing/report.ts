/** What became of the rows of a file, or would become of them: counted by column, with examples of what was refused. Pieces are merged. */
import * as z from "zod";
import type { Instant } from "../time/instant.ts";

const count = z.int().min(0);
const instant = z.int().nullable();

export const columnReport = z.strictObject({
  /** Heading of the column, or the name given in a long file. */
  name: z.string(),
  /** system/point/quantity. */
  place: z.string(),
  /** The registry's unit, in which `min` and `max` are given; null for a state. */
  unit: z.string().nullable(),
  stored: count,
  /** The same value stands there already. */
  duplicates: count,
  /** Another value stands there: both are kept, the first stands. */
  conflicts: count,
  rejected: count,
  empty: count,
  /** Outside what is believable for the quantity: kept and flagged; many of them mean a wrong unit. */
  unbelievable: count,
  from: instant,
  to: instant,
  min: z.number().nullable(),
  max: z.number().nullable(),
});
export type ColumnReport = z.output<typeof columnReport>;

export const rejectReport = z.strictObject({
  reason: z.string(),
  count,
  examples: z.array(z.strictObject({ line: count, column: z.string(), value: z.string() })),
});
export type RejectReport = z.output<typeof rejectReport>;

export const importReport = z.strictObject({
  rows: count,
  /** Rows whose time lies before that of the row above. */
  backwards: count,
  columns: z.array(columnReport),
  rejects: z.array(rejectReport),
});
export type ImportReport = z.output<typeof importReport>;

/** Kinds of refusal counted separately, and examples kept of each. */
const REASONS = 30;
const EXAMPLES = 3;
const OTHERS = "other reasons";

export const emptyColumn = (of: Pick<ColumnReport, "name" | "place" | "unit">): ColumnReport => ({
  ...of,
  stored: 0,
  duplicates: 0,
  conflicts: 0,
  rejected: 0,
  empty: 0,
  unbelievable: 0,
  from: null,
  to: null,
  min: null,
  max: null,
});

/** Collects refusals: a bounded number of reasons, each counted, with its first examples. */
export function createRejects(): {
  add(reason: string, example: RejectReport["examples"][number]): void;
  list(): RejectReport[];
} {
  const kinds = new Map<string, RejectReport>();
  return {
    add(reason, example) {
      const name = kinds.has(reason) || kinds.size < REASONS ? reason : OTHERS;
      const known = kinds.get(name) ?? { reason: name, count: 0, examples: [] };
      const examples = known.examples.length < EXAMPLES ? [...known.examples, example] : known.examples;
      kinds.set(name, { reason: name, count: known.count + 1, examples });
    },
    list: () => [...kinds.values()],
  };
}

const least = (a: number | null, b: number | null) => (a === null ? b : b === null ? a : Math.min(a, b));
const most = (a: number | null, b: number | null) => (a === null ? b : b === null ? a : Math.max(a, b));

/** One column seen with one more value: its range of time and of values. */
export function widened(column: ColumnReport, at: Instant, value: number): ColumnReport {
  return {
    ...column,
    from: least(column.from, at),
    to: most(column.to, at),
    min: least(column.min, value),
    max: most(column.max, value),
  };
}

function mergedColumn(a: ColumnReport, b: ColumnReport): ColumnReport {
  return {
    ...a,
    stored: a.stored + b.stored,
    duplicates: a.duplicates + b.duplicates,
    conflicts: a.conflicts + b.conflicts,
    rejected: a.rejected + b.rejected,
    empty: a.empty + b.empty,
    unbelievable: a.unbelievable + b.unbelievable,
    from: least(a.from, b.from),
    to: most(a.to, b.to),
    min: least(a.min, b.min),
    max: most(a.max, b.max),
  };
}

/**
 * Two pieces of one file, the first first. Columns are matched by place in the list: both come from the same plan. Counts add up; of the
 * examples the first ones stay. Associative.
 */
export function mergeReports(a: ImportReport, b: ImportReport): ImportReport {
  const rejects = new Map<string, RejectReport>();
  for (const one of [...a.rejects, ...b.rejects]) {
    const name = rejects.has(one.reason) || rejects.size < REASONS ? one.reason : OTHERS;
    const known = rejects.get(name);
    rejects.set(name, {
      reason: name,
      count: (known?.count ?? 0) + one.count,
      examples: [...(known?.examples ?? []), ...one.examples].slice(0, EXAMPLES),
    });
  }
  return {
    rows: a.rows + b.rows,
    backwards: a.backwards + b.backwards,
    columns:
      a.columns.length === 0
        ? b.columns
        : a.columns.map((column, index) => {
            const other = b.columns[index];
            return other ? mergedColumn(column, other) : column;
          }),
    rejects: [...rejects.values()],
  };
}

export const EMPTY_REPORT: ImportReport = { rows: 0, backwards: 0, columns: [], rejects: [] };

/** Totals over the columns. */
export function totalsOf(
  report: ImportReport,
): Pick<
  ColumnReport,
  "stored" | "duplicates" | "conflicts" | "rejected" | "empty" | "unbelievable" | "from" | "to"
> {
  const sum = { stored: 0, duplicates: 0, conflicts: 0, rejected: 0, empty: 0, unbelievable: 0 };
  let [from, to]: [number | null, number | null] = [null, null];
  for (const column of report.columns) {
    sum.stored += column.stored;
    sum.duplicates += column.duplicates;
    sum.conflicts += column.conflicts;
    sum.empty += column.empty;
    sum.unbelievable += column.unbelievable;
    from = least(from, column.from);
    to = most(to, column.to);
  }
  // Rows refused whole belong to no column, so refusals are counted by reason.
  sum.rejected = report.rejects.reduce((all, reject) => all + reject.count, 0);
  return { ...sum, from, to };
}
