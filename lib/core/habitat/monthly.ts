/** Entries by month as twelve mid-month ranges. */
import type { ProfileEntry } from "./profile.ts";

/** A range at mid-month with the entry it comes from; `between` where it was run linearly between two months that have one. */
export interface MonthRange {
  readonly low: number | null;
  readonly typical: number | null;
  readonly high: number | null;
  readonly entry: ProfileEntry;
  readonly between: readonly [ProfileEntry, ProfileEntry] | null;
}

/** Days from 1 January to the middle of each month (the 15th) in a year of 365 days. */
const MIDDLES = [14, 45, 73, 104, 134, 165, 195, 226, 257, 287, 318, 348] as const;
const YEAR = 365;
const middle = (month: number): number => MIDDLES[(month - 1 + 12) % 12] as number;
const daysAfter = (from: number, to: number): number => (middle(to) - middle(from) + YEAR) % YEAR || YEAR;

/** What one author says of one kind in one place is one series: its months belong together. */
const seriesKey = ({ kind, source, place, depth, stage, means }: ProfileEntry): string =>
  [kind, source, place ?? "", depth ?? "", stage ?? "", means].join("\u0000");

function mix(a: number | null, b: number | null, share: number): number | null {
  return a === null || b === null ? null : a + (b - a) * share;
}

function monthOf(byMonth: ReadonlyMap<number, ProfileEntry>, month: number): MonthRange | null {
  const own = byMonth.get(month);
  if (own) return { low: own.low, typical: own.typical, high: own.high, entry: own, between: null };
  if (byMonth.size === 0) return null;
  const step = (way: 1 | -1): number => {
    for (let i = 1; i <= 12; i++) {
      const at = ((month - 1 + way * i + 24) % 12) + 1;
      if (byMonth.has(at)) return at;
    }
    return month;
  };
  const before = step(-1);
  const after = step(1);
  const a = byMonth.get(before) as ProfileEntry;
  const b = byMonth.get(after) as ProfileEntry;
  const share = before === after ? 0 : daysAfter(before, month) / daysAfter(before, after);
  return {
    low: mix(a.low, b.low, share),
    typical: mix(a.typical, b.typical, share),
    high: mix(a.high, b.high, share),
    entry: share < 0.5 ? a : b,
    between: [a, b],
  };
}

/**
 * The ranges that hold in the middle of a month (1 to 12), one a series (one author, kind, place and depth). A series with months of its own
 * runs linearly across the months it misses, as a migrant's does; one for all year holds in each. Empty where there is none.
 */
export function rangesIn(entries: readonly ProfileEntry[], month: number): MonthRange[] {
  const series = new Map<string, ProfileEntry[]>();
  for (const entry of entries) {
    const key = seriesKey(entry);
    series.set(key, [...(series.get(key) ?? []), entry]);
  }
  return [...series.values()].flatMap((rows) => {
    const byMonth = new Map(rows.flatMap((row) => (row.month === null ? [] : [[row.month, row] as const])));
    const allYear = rows
      .filter((row) => row.month === null)
      .map(
        (row): MonthRange => ({
          low: row.low,
          typical: row.typical,
          high: row.high,
          entry: row,
          between: null,
        }),
      );
    const own = monthOf(byMonth, month);
    return own ? [own, ...allYear] : allYear;
  });
}
