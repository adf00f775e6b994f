import type BetterSqlite3 from "better-sqlite3";
import { type Stretch, tallyInputs } from "#core/fit/tally.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import type { Engine } from "../queries/engine.ts";
import { type TallyNames, tallyFrom, tallyText } from "../tally.ts";

const NAMES: TallyNames = {
  offset: "@offset",
  span: "@span",
  low: "@low",
  lowRise: "@lowRise",
  high: "@high",
  highRise: "@highRise",
  half: "@half",
  halfRise: "@halfRise",
  width: "@width",
  stream: "@stream",
  from: "@from",
  to: "@to",
};
/** Streams counted between two looks at what else waits: about 10 ms. */
const AT_ONCE = 40;

/** One prepared statement, run once a stretch: a range of the primary key, nothing sorted, nothing handed out row by row. */
export function stretchTallies(connection: BetterSqlite3.Database): Pick<Engine, "tallyStretches"> {
  const count = connection.prepare<[object], (number | null)[]>(tallyText(NAMES, "limit -1")).raw();
  const one = (stretch: Stretch) =>
    tallyFrom(
      count.get({
        ...tallyInputs(stretch),
        width: QUARTER_HOUR,
        stream: stretch.stream,
        from: stretch.from,
        to: stretch.to,
      }),
    );
  return {
    async tallyStretches(stretches) {
      const tallies = [];
      for (let i = 0; i < stretches.length; i += AT_ONCE) {
        if (i > 0) await new Promise((resolve) => setImmediate(resolve));
        tallies.push(...stretches.slice(i, i + AT_ONCE).map(one));
      }
      return tallies;
    },
  };
}
