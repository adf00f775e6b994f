/** Twelve months of a home water out of a team's own values: a logger's readings by date, or a station's table by month. */
import { mean } from "../statistics/mean.ts";
import { roundTo } from "../units/rounding.ts";

/** A value with the month it is of; `year` null where the file says none. */
export interface OwnValue {
  readonly year: number | null;
  /** 1 to 12. */
  readonly month: number;
  /** In the quantity's unit. */
  readonly value: number;
  /** Half width around the value as the file gives it; null where it gives none. */
  readonly spread: number | null;
}
export interface OwnMonth {
  readonly value: number;
  /** Null where it cannot be known. */
  readonly spread: number | null;
  /** Values it is made of. */
  readonly n: number;
  /** Years with a value, rising; empty where the file says none. */
  readonly years: readonly number[];
}

const PLACES = 3;

/** Sample standard deviation; null of fewer than two values. */
function deviationOf(values: readonly number[]): number | null {
  if (values.length < 2) return null;
  const middle = mean(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1));
}

/**
 * Twelve months, January first, in the quantity's unit to 0.001; null where there is no value. Each year's month counts once, however
 * often it was read: the mean of the years' means. The spread is the file's own where it gives one for every value of the month, else the
 * sample standard deviation of its values. Source: climatological monthly means after WMO-No. 1203, section 4 (means of monthly means),
 * from memory.
 */
export function monthsOfValues(values: readonly OwnValue[]): (OwnMonth | null)[] {
  return Array.from({ length: 12 }, (_, i) => {
    const own = values.filter(({ month }) => month === i + 1);
    if (own.length === 0) return null;
    const byYear = new Map<number | null, number[]>();
    for (const { year, value } of own) {
      const known = byYear.get(year);
      if (known) known.push(value);
      else byYear.set(year, [value]);
    }
    const given = own.flatMap(({ spread }) => (spread === null ? [] : [spread]));
    const spread = given.length === own.length ? mean(given) : deviationOf(own.map(({ value }) => value));
    return {
      value: roundTo(mean([...byYear.values()].map(mean)), PLACES),
      spread: spread === null ? null : roundTo(spread, PLACES),
      n: own.length,
      years: [...byYear.keys()].filter((year): year is number => year !== null).sort((a, b) => a - b),
    };
  });
}
