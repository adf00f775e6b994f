import type { Instant } from "./instant.ts";

interface Dated {
  readonly validFrom: Instant;
  /** Null: until something takes its place. */
  readonly validTo: Instant | null;
}

/** True where what holds from one instant to another holds at `at`: the first instant counts, the last does not. */
export const isInForce = ({ validFrom, validTo }: Dated, at: Instant): boolean =>
  validFrom <= at && (validTo === null || at < validTo);

/** The instants at which something begins or ceases to hold, in the order of the rows. */
export const turnsOf = (rows: readonly Dated[]): Instant[] =>
  rows.flatMap(({ validFrom, validTo }) => (validTo === null ? [validFrom] : [validFrom, validTo]));

/** What is in force at an instant: of several, the one that began last, then the one recorded last. */
export function inForce<T extends Dated & { readonly recordedAt: Instant }>(
  rows: readonly T[],
  at: Instant,
): T | undefined {
  let best: T | undefined;
  for (const row of rows) {
    if (!isInForce(row, at)) continue;
    const isLater =
      best === undefined ||
      row.validFrom > best.validFrom ||
      (row.validFrom === best.validFrom && row.recordedAt >= best.recordedAt);
    if (isLater) best = row;
  }
  return best;
}
