import type { CalibrationView } from "#contract/probes.ts";
import type { Calibration, CalibrationKind, Correction } from "#core/probes/calibration.ts";
import { foundError, judgeError } from "#core/probes/correct.ts";

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
  const near = row.before ?? row.after ?? row.standards[0]?.read ?? null;
  const error = foundError(row, near);
  const judged = error && near !== null ? judgeError(quantity, error.total, near) : null;
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
    grade: judged?.grade ?? null,
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
