import type { ImportPlan } from "#core/importing/plan.ts";
import { placeText, targetsOf } from "#core/importing/plan.ts";
import type { ImportPosition } from "#core/importing/progress.ts";
import {
  type ColumnReport,
  createRejects,
  emptyColumn,
  type ImportReport,
  widened,
} from "#core/importing/report.ts";
import { type RowReader, rowReader } from "#core/importing/row-reader.ts";
import { FLAG } from "#core/quality/flag.ts";
import { grossRange } from "#core/quality/gross-range.ts";
import type { Instant } from "#core/time/instant.ts";
import { quantity } from "#core/units/index.ts";
import type { Fate } from "#store/port.ts";
import { invalid } from "../errors.ts";
import { csvPiece } from "./csv-piece.ts";

export interface PieceReading {
  /** Place in the plan's targets. */
  readonly target: number;
  readonly at: Instant;
  readonly value: number;
}
export interface ReadPiece {
  readonly readings: readonly PieceReading[];
  /** Where the next piece begins. */
  readonly position: ImportPosition;
  /** What became of the piece, given one fate a reading. */
  report(fates: readonly Fate[]): ImportReport;
}

function readerOf(plan: ImportPlan, header: readonly string[]): RowReader {
  const reader = rowReader(plan, header);
  if ("read" in reader) return reader;
  throw invalid(reader.map((fault) => ({ ...fault, field: `plan.${fault.field}` })));
}

/** The readings of one piece of a file. Throws AppError "invalid" where the plan does not fit the file. */
export function readPiece(
  plan: ImportPlan,
  { text, final }: { readonly text: string; readonly final: boolean },
  from: ImportPosition,
  now: Instant,
): ReadPiece {
  const piece = csvPiece(text, final, from, plan);
  if (final && piece.header.length === 0)
    throw invalid([
      {
        field: "plan.headingLine",
        value: String(plan.headingLine),
        says: "the file ends before the heading line",
        remedy: "give the line number of the heading",
      },
    ]);
  const readings: PieceReading[] = [];
  const rejects = createRejects();
  const columns = targetsOf(plan).map(({ name, target }) => {
    const spec = quantity(target.quantity);
    return emptyColumn({
      name,
      place: placeText(target),
      unit: spec?.kind === "state" ? null : (spec?.unit ?? null),
    });
  });
  const counted = columns.map(() => ({ empty: 0, rejected: 0 }));
  let previous = from.previous;
  let backwards = 0;
  const reader = piece.header.length > 0 ? readerOf(plan, piece.header) : null;
  for (const { cells, line } of piece.rows) {
    const { at, events } = (reader as RowReader).read(cells, previous, now);
    if (at !== null) {
      if (previous !== null && at < previous) backwards += 1;
      previous = at;
    }
    for (const event of events) {
      if (event.kind === "reading") readings.push(event);
      else if (event.kind === "empty") (counted[event.target] as { empty: number }).empty += 1;
      else {
        rejects.add(event.reason, { line, column: event.column, value: event.value });
        if (event.target !== null) (counted[event.target] as { rejected: number }).rejected += 1;
      }
    }
  }
  return {
    readings,
    position: {
      bytes: piece.bytes,
      line: piece.line,
      header: piece.header.length > 0 ? [...piece.header] : null,
      previous,
    },
    report(fates) {
      const seen: ColumnReport[] = columns.map((column, index) => ({ ...column, ...counted[index] }));
      for (const [index, { target, at, value }] of readings.entries()) {
        const column = widened(seen[target] as ColumnReport, at, value);
        const spec = quantity(targetsOf(plan)[target]?.target.quantity ?? "");
        const isDoubtful = spec !== undefined && grossRange(value, spec).flag !== FLAG.pass;
        const fate = FATE_COUNTS[fates[index] as Fate];
        seen[target] = {
          ...column,
          [fate]: column[fate] + 1,
          unbelievable: column.unbelievable + (isDoubtful ? 1 : 0),
        };
      }
      return { rows: piece.rows.length, backwards, columns: seen, rejects: rejects.list() };
    },
  };
}

const FATE_COUNTS = { stored: "stored", duplicate: "duplicates", conflict: "conflicts" } as const;
