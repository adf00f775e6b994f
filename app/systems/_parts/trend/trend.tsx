"use client";

import { memo, useCallback, useMemo, useRef, useState } from "react";
import { Press } from "#app/_components/controls/press.tsx";
import { chartData, type Span } from "#app/_components/drawing/chart-data.ts";
import type { LogMark } from "#app/_components/drawing/log-marks.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import { seenAs } from "#app/_components/words/standing-words.ts";
import type { SystemState } from "#contract/views.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { Chart } from "../chart/chart.tsx";
import { ChartBoundary } from "../chart/chart-boundary.tsx";
import { ChartTable } from "../chart/chart-table.tsx";
import type { WatchBar } from "../lane/watch-bars.ts";
import css from "./trend.module.css";
import type { Compare } from "./trend-address.ts";
import { TrendHead } from "./trend-head.tsx";
import type { TrendRow } from "./trend-rows.ts";
import { benchWords } from "./trend-words.ts";
import { useOther } from "./use-other.ts";
import { useSeries, useTail } from "./use-series.ts";

const HEIGHT = 6.25;

export interface TrendProps {
  readonly system: SystemState;
  readonly row: TrendRow;
  readonly span: Span;
  readonly reading: Span;
  readonly follows: boolean;
  readonly compare: Compare;
  readonly compareLabel: string;
  readonly marks: readonly LogMark[];
  readonly watched: readonly WatchBar[];
  readonly nights: readonly Span[];
  readonly clock: ZoneClock;
  /** Now to the minute. */
  readonly now: number;
  readonly onSpan: (span: Span | null) => void;
}

/** One quantity at one point: what it is now, in words, and its chart. */
export const Trend = memo(function Trend({
  system,
  row,
  span,
  reading,
  follows,
  compare,
  compareLabel,
  marks,
  watched,
  nights,
  clock,
  now,
  onSpan,
}: TrendProps) {
  const { main } = row;
  const [attempt, setAttempt] = useState(0);
  const [failure, setFailure] = useState<Error | null>(null);
  const [hasTable, setTable] = useState(false);
  const [asked, setAsked] = useState("");
  const cursor = useRef<HTMLParagraphElement>(null);
  const fetched = useSeries(system.system, row, reading, attempt);
  const other = useOther(system.system, main, reading, compare);
  const tail = useTail(main);
  const seen = seenAs(main);
  const scene = useMemo(() => {
    const live = follows && main.origin !== "bench" ? tail : [];
    const data = chartData(fetched.series, fetched.bench, live);
    const bands = (fetched.series ?? fetched.bench)?.bands ?? [];
    // The newest band holds on while live readings are joined to the right of what was read.
    const held = bands.map((b, i) =>
      i === bands.length - 1 && follows ? { ...b, to: Number.MAX_SAFE_INTEGER } : b,
    );
    const second = other.data === null ? undefined : { label: compareLabel, data: other.data };
    return {
      data,
      bands: held,
      decimals: main.decimals,
      seen,
      endsNow: follows,
      other: second,
      marks,
      watched,
    };
  }, [fetched, tail, follows, main.decimals, main.origin, seen, other.data, compareLabel, marks, watched]);
  const bench = useMemo(
    () => (main.origin === "bench" ? "" : benchWords(main, fetched.series, fetched.bench, clock, now)),
    [main, fetched, clock, now],
  );
  const toggleTable = useCallback(() => setTable((had) => !had), []);
  const isEmpty =
    scene.data.last === null && scene.data.bench.length === 0 && scene.data.suspect.length === 0;
  const table = (
    <ChartTable
      label={main.label}
      unitLabel={main.unitLabel}
      decimals={main.decimals}
      data={scene.data}
      clock={clock}
    />
  );
  const instead = (why: Error) => (
    <>
      <p className={css.failed}>The chart could not be drawn ({why.message}); here are its readings.</p>
      {table}
    </>
  );
  const tell = (words: string | null) => {
    if (cursor.current !== null) cursor.current.textContent = words ?? "";
  };
  return (
    <section
      className={css.trend}
      aria-label={`${main.label}, ${pointWords(main.point)}${main.origin === "probe" ? "" : `, ${main.origin}`}`}
      data-trend={row.key}
    >
      <TrendHead
        system={system}
        row={row}
        bench={bench}
        clock={clock}
        now={now}
        hasTable={hasTable}
        onTable={toggleTable}
      />
      <div className={css.plot} aria-busy={fetched.state === "loading"}>
        <p ref={cursor} className={css.cursor} aria-hidden="true" />
        <p className="unseen" role="status">
          {asked}
        </p>
        {failure !== null ? (
          instead(failure)
        ) : (
          <ChartBoundary instead={instead}>
            <Chart
              label={`Chart of ${main.label}`}
              scene={scene}
              span={span}
              clock={clock}
              nights={nights}
              height={HEIGHT}
              hasTimeAxis={false}
              onSpan={onSpan}
              onCursor={tell}
              onAsked={(words) => setAsked(words ?? "")}
              onFailure={setFailure}
            />
          </ChartBoundary>
        )}
        {fetched.state === "loading" && fetched.series === null && fetched.bench === null && (
          <p className={css.over}>Loading readings ...</p>
        )}
        {fetched.state === "failed" && (
          <p className={css.over} role="alert">
            {fetched.why}. <Press onClick={() => setAttempt((n) => n + 1)}>Try again</Press>
          </p>
        )}
        {fetched.state === "ready" && isEmpty && <p className={css.over}>No readings in this range.</p>}
        {other.says !== "" && <p className={css.beside}>{other.says}</p>}
      </div>
      {hasTable && failure === null && <div className={css.wide}>{table}</div>}
    </section>
  );
});
