"use client";

import { useEffect, useMemo, useRef, useState } from "react";
import type { FindingView, StreamState, SystemState } from "../../lib/core/wire/views.ts";
import { Chart } from "./chart.tsx";
import { ChartBoundary } from "./chart-boundary.tsx";
import { chartData, type Span } from "./chart-data.ts";
import { ChartTable } from "./chart-table.tsx";
import { moved, notAfter, RANGES, type RangeId, rangeOf, zoomed } from "./chart-window.ts";
import { rateWords, valueWords, withUnit } from "./number-words.ts";
import { streamData, Value } from "./rack-cell.tsx";
import { seenAs } from "./standing-words.ts";
import { bandWords, findingOf, noteOf, pointWords } from "./stream-words.ts";
import { Strip } from "./strip.tsx";
import type { ZoneClock } from "./time-words.ts";
import { type TrendRow, trendRows } from "./trend-rows.ts";
import css from "./trends.module.css";
import { useSeries, useTail } from "./use-series.ts";

/** While the window follows the present, what was read is read anew this often; between, live readings are joined on. */
const ANEW_MS = 10 * 60_000;

/** True where the value would leave its band within twelve hours if it went on; a rate that leads nowhere is no news. */
function leavesSoon({ value, rate, band }: StreamState): boolean {
  if (value === null || rate === null || band === null) return false;
  const then = value + 12 * rate;
  return (
    (band.high !== null && rate > 0 && then > band.high) || (band.low !== null && rate < 0 && then < band.low)
  );
}

/** One sentence about a quantity: what is wrong with it, or that it is well and where it should be. */
function Sentence({
  stream,
  findings,
  clock,
  now,
}: {
  stream: StreamState;
  findings: readonly FindingView[];
  clock: ZoneClock;
  now: number;
}) {
  const seen = seenAs(stream);
  const finding = findingOf(stream, findings);
  if (finding !== undefined) return <p className={`${css.sentence} ${css[seen]}`}>{finding.says}</p>;
  const note = noteOf(stream, findings, clock, now);
  const band = bandWords(stream);
  const moving =
    seen === "calm" && leavesSoon(stream) && stream.rate !== null
      ? `, ${rateWords(stream.rate, stream.decimals, stream.unitLabel)}`
      : "";
  return (
    <p className={`${css.sentence} ${css[seen]}`}>
      {note === "" ? `${band.charAt(0).toUpperCase()}${band.slice(1)}${moving}` : `${note}; ${band}`}
    </p>
  );
}

function Head({
  system,
  row,
  clock,
  now,
}: {
  system: SystemState;
  row: TrendRow;
  clock: ZoneClock;
  now: number;
}) {
  const { main, with: second } = row;
  const seen = seenAs(main);
  const isKnown = main.value !== null && seen !== "unknown";
  return (
    <div className={css.head} {...streamData(system.system, main)}>
      <h2>
        {main.label}
        {main.point !== "display" && <small> {pointWords(main.point)}</small>}
        {main.origin !== "probe" && <small> {main.origin}</small>}
      </h2>
      <p className={`${css.reading} ${css[seen]}`}>
        <Value text={isKnown ? valueWords(main.value ?? 0, main.decimals, main.unitLabel) : "not known"} />
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
      <Sentence stream={main} findings={system.findings} clock={clock} now={now} />
      {main.at !== null && <p className={css.when}>{clock.near(main.at, now)}</p>}
    </div>
  );
}

interface TrendProps {
  readonly system: SystemState;
  readonly row: TrendRow;
  readonly span: Span;
  readonly reading: Span;
  readonly follows: boolean;
  readonly clock: ZoneClock;
  readonly now: number;
  readonly onSpan: (span: Span | null) => void;
}

function Trend({ system, row, span, reading, follows, clock, now, onSpan }: TrendProps) {
  const { main } = row;
  const [attempt, setAttempt] = useState(0);
  const [failure, setFailure] = useState<Error | null>(null);
  const cursor = useRef<HTMLParagraphElement>(null);
  const fetched = useSeries(system.system, row, reading, attempt);
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
    return { data, bands: held, decimals: main.decimals, seen, endsNow: follows };
  }, [fetched, tail, follows, main.decimals, main.origin, seen]);
  const isEmpty =
    scene.data.last === null && scene.data.bench.length === 0 && scene.data.suspect.length === 0;
  const table = (isOpen: boolean) => (
    <ChartTable
      label={main.label}
      unitLabel={main.unitLabel}
      decimals={main.decimals}
      data={scene.data}
      clock={clock}
      isOpen={isOpen}
    />
  );
  const instead = (why: Error) => (
    <>
      <p className={css.failed}>The chart could not be drawn ({why.message}); here are its readings.</p>
      {table(true)}
    </>
  );
  return (
    <section
      className={css.trend}
      aria-label={`${main.label}, ${pointWords(main.point)}`}
      data-trend={row.key}
    >
      <Head system={system} row={row} clock={clock} now={now} />
      <div className={css.plot} aria-busy={fetched.state === "loading"}>
        <p ref={cursor} className={css.cursor} aria-hidden="true" />
        {failure !== null ? (
          instead(failure)
        ) : (
          <>
            <ChartBoundary instead={instead}>
              <Chart
                label={`Chart of ${main.label}`}
                scene={scene}
                span={span}
                clock={clock}
                onSpan={onSpan}
                onCursor={(words) => {
                  if (cursor.current !== null) cursor.current.textContent = words ?? "";
                }}
                onFailure={setFailure}
              />
            </ChartBoundary>
            {fetched.state === "loading" && fetched.series === null && fetched.bench === null && (
              <p className={css.over}>Reading the series ...</p>
            )}
            {fetched.state === "failed" && (
              <p className={css.over} role="alert">
                {fetched.why}.{" "}
                <button type="button" onClick={() => setAttempt((n) => n + 1)}>
                  Try again
                </button>
              </p>
            )}
            {fetched.state === "ready" && isEmpty && <p className={css.over}>No readings in this time.</p>}
            {table(false)}
          </>
        )}
      </div>
    </section>
  );
}

const STEPS = [
  { label: "Earlier", sign: "‹", change: (span: Span) => moved(span, -0.5) },
  { label: "Later", sign: "›", change: (span: Span) => moved(span, 0.5) },
  { label: "Closer", sign: "+", change: (span: Span) => zoomed(span, 0.5) },
  { label: "Wider", sign: "−", change: (span: Span) => zoomed(span, 2) },
];

/** The linked charts of a system over one window of time; the range stands in the address. */
export function Trends({
  system,
  range: first,
  clock,
  now,
}: {
  system: SystemState;
  range: RangeId;
  clock: ZoneClock;
  now: number;
}) {
  const [range, setRange] = useState(first);
  const { length } = rangeOf(range);
  const [chosen, setChosen] = useState<Span | null>(null);
  const [anchor, setAnchor] = useState(now);
  useEffect(() => {
    if (now - anchor >= ANEW_MS) setAnchor(now);
  }, [now, anchor]);
  const follows = chosen === null;
  const second = Math.floor(now / 1000) * 1000;
  // A long window moves by less than a pixel a second: draw it anew only when there is something to see.
  const step = Math.max(1000, Math.floor(length / 2000));
  const to = Math.floor(second / step) * step + step;
  const span = useMemo(() => chosen ?? { from: to - length, to }, [chosen, to, length]);
  const reading = useMemo(
    () => chosen ?? { from: anchor - length, to: anchor + ANEW_MS },
    [chosen, anchor, length],
  );
  const rows = useMemo(() => trendRows(system), [system]);
  const onSpan = (next: Span | null) => setChosen(next === null ? null : notAfter(next, now));
  return (
    <>
      <div className={`${css.tools} no-print`}>
        <nav aria-label="Range of the charts" className={css.ranges}>
          {RANGES.map((r) => (
            <a
              key={r.id}
              href={`?range=${r.id}`}
              aria-current={r.id === range ? "true" : undefined}
              onClick={(event) => {
                // Opening it in another tab stays possible; here only the charts change.
                if (event.metaKey || event.ctrlKey || event.shiftKey) return;
                event.preventDefault();
                window.history.replaceState(null, "", `?range=${r.id}`);
                setRange(r.id);
                setChosen(null);
                setAnchor(now);
              }}
            >
              {r.label}
            </a>
          ))}
        </nav>
        <fieldset className={css.steps}>
          <legend className="unseen">Move and zoom all charts</legend>
          {STEPS.map(({ label, sign, change }) => (
            <button
              key={label}
              type="button"
              aria-label={label}
              title={label}
              onClick={() => onSpan(change(span))}
            >
              {sign}
            </button>
          ))}
          <button type="button" disabled={follows} onClick={() => setChosen(null)}>
            now
          </button>
        </fieldset>
        <p className={css.window} role="status">
          {clock.dayClock(span.from)} to {follows ? "now" : clock.dayClock(span.to)}, {clock.name(span.to)}
        </p>
      </div>
      {rows.length === 0 && <p>This system has no measured quantity yet.</p>}
      {rows.map((row) => (
        <Trend
          key={row.key}
          system={system}
          row={row}
          span={span}
          reading={reading}
          follows={follows}
          clock={clock}
          now={now}
          onSpan={onSpan}
        />
      ))}
      <p className={css.key}>
        Squares: bench results · rings: suspect readings, set aside · shaded: target band · dashes: action
        limits · grey: night, 18:00 to 06:00 · drag, pinch or Ctrl and wheel to zoom
      </p>
    </>
  );
}
