import type { CalibrationView } from "#contract/probes.ts";
import type { Calibration, CalibrationKind, Correction } from "#core/probes/calibration.ts";
import { foundError, foundPoints, lineFound, worstPoint } from "#core/probes/correct.ts";

const LABELS: Readonly<Record<CalibrationKind, string>> = {
  calibration: "Calibration",
  cleaning: "Cleaning",
  replacement: "Replacement",
};
export const kindLabelOf = (kind: CalibrationKind): string => LABELS[kind];

/** A calibration as people see it, with what it found. */
export function calibrationView(
  row: Calibration,
  quantity: string,
  correction: Correction | undefined,
): CalibrationView {
  const worst = worstPoint(quantity, foundPoints(row));
  const error = foundError(row, row.before ?? row.after ?? worst?.read ?? null);
  const { id, stream, kind, from, at, before, after, moved, slope, offset, item, note, by, entered } = row;
  return {
    id,
    stream,
    kind,
    kindLabel: kindLabelOf(kind),
    from,
    at,
    before,
    after,
    moved,
    standards: row.standards.map((standard) => ({ ...standard })),
    slope,
    offset,
    item,
    note,
    by,
    entered,
    error,
    worst: worst && { standard: worst.standard, error: worst.error },
    line: lineFound(row.standards),
    grade: worst?.grade ?? null,
    correction:
      correction && error
        ? {
            from: correction.from,
            to: correction.to,
            error: error.total,
            by: correction.by,
            reason: correction.reason,
          }
        : null,
    voided: row.voided ? { by: row.voided.by, at: row.voided.at, reason: row.voided.reason } : null,
  };
}
