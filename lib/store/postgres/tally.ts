import type pg from "pg";
import { type Stretch, tallyInputs } from "#core/fit/tally.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import type { Engine } from "../queries/engine.ts";
import { arrayParameters } from "../tables/table-columns.ts";
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

type Asked = Pick<Stretch, "stream" | "from" | "to"> & ReturnType<typeof tallyInputs>;
const COLUMNS: readonly (readonly [name: string, type: string, of: (asked: Asked) => number])[] = [
  ["start_offset", "bigint", (asked) => asked.offset],
  ["span", "double precision", (asked) => asked.span],
  ["low", "double precision", (asked) => asked.low],
  ["low_rise", "double precision", (asked) => asked.lowRise],
  ["high", "double precision", (asked) => asked.high],
  ["high_rise", "double precision", (asked) => asked.highRise],
  ["half", "double precision", (asked) => asked.half],
  ["half_rise", "double precision", (asked) => asked.halfRise],
  ["stream", "integer", (asked) => asked.stream],
  ["from_at", "bigint", (asked) => asked.from],
  ["to_at", "bigint", (asked) => asked.to],
];

const TEXT = `select t.* from unnest(${arrayParameters(COLUMNS)}) with ordinality
  as s(${COLUMNS.map(([name]) => name).join(", ")}, place)
  cross join lateral (${tallyText(NAMES, "")}) as t order by s.place`;

/** All stretches in one statement. */
export function stretchTallies(pool: pg.Pool): Pick<Engine, "tallyStretches"> {
  return {
    async tallyStretches(stretches) {
      if (stretches.length === 0) return [];
      const asked = stretches.map((stretch) => ({ ...stretch, ...tallyInputs(stretch) }));
      const found = await pool.query<(number | string | null)[]>({
        name: "tally-stretches",
        text: TEXT,
        rowMode: "array",
        values: COLUMNS.map(([, , of]) => asked.map(of)),
      });
      return found.rows.map(tallyFrom);
    },
  };
}
