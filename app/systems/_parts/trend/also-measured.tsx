import { Press } from "#app/_components/controls/press.tsx";
import { seenAs } from "#app/_components/words/standing-words.ts";
import { bandWords, noteOf, streamName } from "#app/_components/words/stream-words.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { withUnit } from "#core/units/number-text.ts";
import { streamData } from "../stream-data.ts";
import css from "./trend.module.css";
import type { TrendRow } from "./trend-rows.ts";

/** What has nothing to draw over this window, or is an input of another row: its last value, and a chart on demand. */
export function AlsoMeasured({
  system,
  rows,
  clock,
  now,
  onOpen,
}: {
  readonly system: string;
  readonly rows: readonly TrendRow[];
  readonly clock: ZoneClock;
  readonly now: number;
  readonly onOpen: (key: string) => void;
}) {
  if (rows.length === 0) return null;
  return (
    <section className={css.also} aria-labelledby="also-measured">
      <h2 id="also-measured">Also measured</h2>
      <ul>
        {rows.map(({ key, main }) => (
          <li key={key} {...streamData(system, main)} data-also={key}>
            <span className={css.alsoName}>
              {streamName(main)}
              {main.origin !== "probe" && <small> {main.origin}</small>}
            </span>
            <span>
              <b className={css[seenAs(main)]}>
                {main.value === null || seenAs(main) === "unknown"
                  ? "not known"
                  : withUnit(main.value, main.decimals, main.unitLabel)}
              </b>
              <small>
                {seenAs(main) === "unknown"
                  ? ` · ${noteOf(main, [], clock, now)}`
                  : main.at !== null && ` ${clock.near(main.at, now)}`}
                {main.band !== null && ` · ${bandWords(main)}`}
              </small>
            </span>
            <Press className="no-print" onClick={() => onOpen(key)}>
              chart<span className="unseen"> of {streamName(main)}</span>
            </Press>
          </li>
        ))}
      </ul>
    </section>
  );
}
