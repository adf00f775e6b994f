import { memo } from "react";
import { classes } from "#app/_components/controls/classes.ts";
import { Press } from "#app/_components/controls/press.tsx";
import { Strip } from "#app/_components/strip/strip.tsx";
import { pointWords } from "#app/_components/words/point-words.ts";
import { seenAs } from "#app/_components/words/standing-words.ts";
import { bandWords, findingOf, noteOf } from "#app/_components/words/stream-words.ts";
import type { FindingView, StreamState, SystemState } from "#contract/views.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { numberText, withUnit } from "#core/units/number-text.ts";
import { Value } from "../rack/rack-cell.tsx";
import { streamData } from "../stream-data.ts";
import css from "./trend.module.css";
import type { TrendRow } from "./trend-rows.ts";
import { movingWords } from "./trend-words.ts";

/** What is wrong with a quantity, or that it is well and where it should be; then what the bench said. */
function Sentence({
  stream,
  findings,
  bench,
  clock,
  now,
}: {
  stream: StreamState;
  findings: readonly FindingView[];
  bench: string;
  clock: ZoneClock;
  now: number;
}) {
  const seen = seenAs(stream);
  const finding = findingOf(stream, findings);
  const note = noteOf(stream, findings, clock, now);
  const band = bandWords(stream);
  const isBanded = stream.band !== null;
  const first =
    finding?.says ??
    (note !== ""
      ? `${note}; ${band}`
      : isBanded
        ? `${band.replace("target", "In band,")}${movingWords(stream)}`
        : "No target band");
  return (
    <p className={css.sentence}>
      <span className={css[seen]}>{first}</span>
      {bench !== "" && ` · ${bench}`}
    </p>
  );
}

/** Name, value, strip and sentence beside a chart. They stay as they are while a window is dragged. */
export const TrendHead = memo(function TrendHead({
  system,
  row,
  bench,
  clock,
  now,
  hasTable,
  onTable,
}: {
  readonly system: SystemState;
  readonly row: TrendRow;
  readonly bench: string;
  readonly clock: ZoneClock;
  readonly now: number;
  readonly hasTable: boolean;
  readonly onTable: () => void;
}) {
  const { main, with: second } = row;
  const seen = seenAs(main);
  const isKnown = main.value !== null && seen !== "unknown";
  return (
    <div {...streamData(system.system, main)}>
      <div className={css.title}>
        <h2>
          {main.label}
          {main.point !== "display" && <small> {pointWords(main.point)}</small>}
          {main.origin !== "probe" && <small> {main.origin}</small>}
          {main.basis !== undefined && <small> {main.basis}</small>}
        </h2>
        <span className={css.when}>{main.at !== null && clock.near(main.at, now)}</span>
        <Press className="no-print" aria-expanded={hasTable} onClick={onTable}>
          table
          <span className="unseen">
            {" "}
            of {main.label} {pointWords(main.point)}
          </span>
        </Press>
      </div>
      <div className={css.now}>
        <p className={classes(css.reading, css[seen])}>
          <Value text={isKnown ? numberText(main.value, main.decimals) : "not known"} />
          <small>
            {isKnown && main.unitLabel}
            {second !== null && (
              <span {...streamData(system.system, second)}>
                {" · "}
                {second.value === null || seenAs(second) === "unknown"
                  ? "% not known"
                  : withUnit(second.value, second.decimals, second.unitLabel)}
              </span>
            )}
          </small>
        </p>
        <Strip stream={main} />
      </div>
      <Sentence stream={main} findings={system.findings} bench={bench} clock={clock} now={now} />
    </div>
  );
});
