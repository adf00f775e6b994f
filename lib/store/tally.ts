import { NO_TALLY, type Tally } from "#core/fit/tally.ts";

/** The one statement behind tallyStretches, in the words both dialects share; only how a value is bound differs. */
export interface TallyNames {
  readonly offset: string;
  readonly span: string;
  readonly low: string;
  readonly lowRise: string;
  readonly high: string;
  readonly highRise: string;
  readonly half: string;
  readonly halfRise: string;
  readonly width: string;
  readonly stream: string;
  readonly from: string;
  readonly to: string;
}

/**
 * Every step is one double operation in the order of tallyOf in lib/core/fit, so that both agree to the last bit. `apart` keeps a dialect from
 * writing an inner expression out at every place that names it.
 */
export function tallyText(of: TallyNames, apart: string): string {
  const millionths = (value: string) => `floor((${value}) * 1000000 + 0.5)`;
  const side = (is: string, miss: string) =>
    [
      "count(*)",
      `sum(${millionths(miss)})`,
      `sum(case when half > 0 then ${millionths(`${miss} / half`)} else 1000000 end)`,
      `max(${miss})`,
    ]
      .map((total) => `${total} filter (where ${is})`)
      .join(", ");
  return `select count(*), ${side("miss < 0", "-miss")}, ${side("miss > 0", "miss")} from (
    select case when mean < lowest then mean - lowest when mean > highest then mean - highest else 0 end as miss, half from (
      select mean, ${of.low} + ${of.lowRise} * share as lowest, ${of.high} + ${of.highRise} * share as highest,
        ${of.half} + ${of.halfRise} * share as half
      from (
        select sum / good as mean, cast(start - ${of.offset} as double precision) / ${of.span} as share from rollup
        where width = ${of.width} and stream = ${of.stream} and start >= ${of.from} and start < ${of.to} and good > 0 ${apart}
      ) as means ${apart}
    ) as ranges ${apart}
  ) as judged`;
}

/** What the statement gives, by place: count, then below and above with count, sum, scaled sum and widest. Nulls where there are no rows. */
type TallyRow = readonly (number | string | null)[];

/** Counts and sums come as text from a driver that keeps 64-bit numbers whole; all of them are far below 2^53. */
export function tallyFrom(row: TallyRow | undefined): Tally {
  if (!row) return NO_TALLY;
  const number = (place: number) => Number(row[place] ?? 0);
  return {
    n: number(0),
    below: number(1),
    belowSum: number(2),
    belowScaled: number(3),
    belowMost: Math.max(0, number(4)),
    above: number(5),
    aboveSum: number(6),
    aboveScaled: number(7),
    aboveMost: Math.max(0, number(8)),
  };
}
