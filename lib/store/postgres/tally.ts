import type pg from "pg";
import { tallyInputs } from "#core/fit/tally.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import type { Engine } from "../queries/engine.ts";
import { type TallyNames, tallyFrom, tallyText } from "../tally.ts";

const NAMES: TallyNames = {
  offset: "s.start_offset",
  span: "s.span",
  low: "s.low",
  lowRise: "s.low_rise",
  high: "s.high",
  highRise: "s.high_rise",
  half: "s.half",
  halfRise: "s.half_rise",
  width: String(QUARTER_HOUR),
  stream: "s.stream",
  from: "s.from_at",
  to: "s.to_at",
};

const TEXT = `select t.* from unnest($1::bigint[], $2::double precision[], $3::double precision[], $4::double precision[],
    $5::double precision[], $6::double precision[], $7::double precision[], $8::double precision[], $9::integer[], $10::bigint[],
    $11::bigint[]) with ordinality
  as s(start_offset, span, low, low_rise, high, high_rise, half, half_rise, stream, from_at, to_at, place)
  cross join lateral (${tallyText(NAMES, "")}) as t order by s.place`;

/** All stretches in one statement. */
export function stretchTallies(pool: pg.Pool): Pick<Engine, "tallyStretches"> {
  return {
    async tallyStretches(stretches) {
      if (stretches.length === 0) return [];
      const numbers = stretches.map(tallyInputs);
      const found = await pool.query<(number | string | null)[]>({
        name: "tally-stretches",
        text: TEXT,
        rowMode: "array",
        values: [
          numbers.map((row) => row.offset),
          numbers.map((row) => row.span),
          numbers.map((row) => row.low),
          numbers.map((row) => row.lowRise),
          numbers.map((row) => row.high),
          numbers.map((row) => row.highRise),
          numbers.map((row) => row.half),
          numbers.map((row) => row.halfRise),
          stretches.map((row) => row.stream),
          stretches.map((row) => row.from),
          stretches.map((row) => row.to),
        ],
      });
      return found.rows.map(tallyFrom);
    },
  };
}
