/** One row of cells after the other into readings, by a plan. */
import { faultText } from "../faults/fault.ts";
import type { Instant } from "../time/instant.ts";
import { MINUTE } from "../time/instant.ts";
import { type FileTime, fileTime, isZone } from "./file-time.ts";
import { type CellReader, cellReader } from "./file-value.ts";
import { type ImportPlan, targetsOf } from "./plan.ts";

/** A fault of the plan against this file: which part, and what to do. */
export interface PlanFault {
  /** Path in the plan. */
  readonly field: string;
  readonly value: string;
  readonly says: string;
  readonly remedy: string;
}
export type RowEvent =
  | { readonly kind: "reading"; readonly target: number; readonly at: Instant; readonly value: number }
  | { readonly kind: "empty"; readonly target: number }
  /** `target` null: the whole row. */
  | {
      readonly kind: "rejected";
      readonly target: number | null;
      readonly column: string;
      readonly value: string;
      readonly reason: string;
    };
export interface RowReader {
  /** The row's time (null where it has none) and what each of its cells is. `now` bounds times: nothing was measured in the future. */
  read(
    cells: readonly string[],
    previous: Instant | null,
    now: Instant,
  ): { readonly at: Instant | null; readonly events: readonly RowEvent[] };
}

const SHOWN = 60;
const AHEAD = 2 * MINUTE;

/** A reader for rows below this heading, or every fault of the plan against it. */
export function rowReader(plan: ImportPlan, header: readonly string[]): RowReader | readonly PlanFault[] {
  const faults: PlanFault[] = [];
  const columns = header.map((cell) => cell.trim());
  const indexOf = (name: string, field: string): number => {
    const index = columns.indexOf(name);
    if (index < 0)
      faults.push({
        field,
        value: name,
        says: "is not a column in this file",
        remedy: `use one of ${columns.join(", ").slice(0, 200)}`,
      });
    else if (columns.indexOf(name, index + 1) >= 0)
      faults.push({
        field,
        value: name,
        says: "is the heading of two columns",
        remedy: "give the columns of the file different headings",
      });
    return index;
  };
  const { time, layout } = plan;
  if (time.zone !== null && !isZone(time.zone))
    faults.push({
      field: "time.zone",
      value: time.zone,
      says: "is neither a zone nor an offset",
      remedy: "use Z, an offset such as -07:00, or a zone such as Europe/London",
    });
  const timeAt = time.columns.map((name, index) => indexOf(name, `time.columns.${index}`));
  const readers = targetsOf(plan).map(({ name, target }, index) => {
    const reader = cellReader(target, plan.decimal);
    if (typeof reader === "function") return reader;
    const field =
      layout.kind === "wide" ? `layout.columns.${index}.target` : `layout.targets.${index}.target`;
    faults.push({ field, value: name, says: reader.says, remedy: reader.remedy });
    return null;
  });
  const places =
    layout.kind === "wide"
      ? {
          values: layout.columns.map(({ column }, index) =>
            indexOf(column, `layout.columns.${index}.column`),
          ),
        }
      : {
          names: layout.name.map((name, index) => indexOf(name, `layout.name.${index}`)),
          value: indexOf(layout.value, "layout.value"),
          byName: new Map(layout.targets.map(({ name }, index) => [name, index])),
        };
  if (faults.length > 0) return faults;
  const cellsOf = readers as readonly CellReader[];
  const times = fileTime(time);
  const missing: ReadonlySet<string> = new Set(["", ...plan.missing]);
  return {
    read(cells, previous, now) {
      const written = timeAt.map((index) => (cells[index] ?? "").trim());
      const when = timeOf(times, written, previous, now);
      if (typeof when === "string")
        return {
          at: null,
          events: [
            {
              kind: "rejected",
              target: null,
              column: time.columns.join(" and "),
              value: written.join(" ").slice(0, SHOWN),
              reason: when,
            },
          ],
        };
      const at = when;
      const event = (target: number, column: string, text: string): RowEvent => {
        if (missing.has(text)) return { kind: "empty", target };
        const read = (cellsOf[target] as CellReader)(text);
        return read.ok
          ? { kind: "reading", target, at, value: read.value }
          : { kind: "rejected", target, column, value: text.slice(0, SHOWN), reason: faultText(read) };
      };
      if (places.values !== undefined)
        return {
          at,
          events: places.values.map((index, target) =>
            event(target, columns[index] as string, (cells[index] ?? "").trim()),
          ),
        };
      const name = places.names.map((index) => (cells[index] ?? "").trim()).join("/");
      const target = places.byName.get(name);
      if (target !== undefined)
        return { at, events: [event(target, name, (cells[places.value] ?? "").trim())] };
      return {
        at,
        events: [
          {
            kind: "rejected",
            target: null,
            column: name.slice(0, SHOWN),
            value: (cells[places.value] ?? "").slice(0, SHOWN),
            reason: "no system is chosen for this name",
          },
        ],
      };
    },
  };
}

function timeOf(
  times: FileTime,
  written: readonly string[],
  previous: Instant | null,
  now: Instant,
): Instant | string {
  const read = times.read(written, previous);
  if (!read.ok) return faultText(read);
  return read.at > now + AHEAD ? "time is in the future" : read.at;
}
