"use client";

import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import { Press } from "#app/_components/controls/press.tsx";
import { nightsIn, type Span } from "#app/_components/drawing/chart-data.ts";
import type { WatchView } from "#contract/habitat.ts";
import type { SystemState } from "#contract/views.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { moved, notAfter, RANGES, rangeOf, zoomed } from "../chart/chart-window.ts";
import { TimeLane } from "../lane/time-lane.tsx";
import { watchBars } from "../lane/watch-bars.ts";
import { AlsoMeasured } from "./also-measured.tsx";
import { CompareForm } from "./compare-form.tsx";
import { Trend } from "./trend.tsx";
import { type TrendAddress, writeAddress } from "./trend-address.ts";
import { folded } from "./trend-fold.ts";
import { trendRows } from "./trend-rows.ts";
import css from "./trends.module.css";
import { useLog } from "./use-log.ts";

/** While the window follows the present, what was read is read again this often; between, live readings are joined on. */
const ANEW_MS = 10 * 60_000;
/** A browser refuses an address that changes at every frame of a drag. */
const SETTLED_MS = 300;

const STEPS = [
  { label: "Earlier", sign: "‹", change: (span: Span) => moved(span, -0.5) },
  { label: "Later", sign: "›", change: (span: Span) => moved(span, 0.5) },
  { label: "Zoom in", sign: "+", change: (span: Span) => zoomed(span, 0.5) },
  { label: "Zoom out", sign: "−", change: (span: Span) => zoomed(span, 2) },
];

/** The window over all charts: chosen by the reader, or a range that ends now and moves on with it. */
function useWindow(first: TrendAddress, now: number) {
  const [address, setAddress] = useState(first);
  const [anchor, setAnchor] = useState(now);
  useEffect(() => {
    if (now - anchor >= ANEW_MS) setAnchor(now);
  }, [now, anchor]);
  const isFirst = useRef(true);
  useEffect(() => {
    if (isFirst.current) {
      isFirst.current = false;
      return;
    }
    const timer = setTimeout(() => window.history.replaceState(null, "", writeAddress(address)), SETTLED_MS);
    return () => clearTimeout(timer);
  }, [address]);
  const { length } = rangeOf(address.range);
  const second = Math.floor(now / 1000) * 1000;
  // A long window moves by less than a pixel a second: draw it again only when there is something to see.
  const step = Math.max(1000, Math.floor(length / 2000));
  const to = Math.floor(second / step) * step + step;
  const { window: chosen } = address;
  const span = useMemo(() => chosen ?? { from: to - length, to }, [chosen, to, length]);
  const reading = useMemo(
    () => chosen ?? { from: anchor - length, to: anchor + ANEW_MS },
    [chosen, anchor, length],
  );
  const latest = useRef(now);
  latest.current = now;
  const onSpan = useCallback((next: Span | null) => {
    setAddress((a) => ({ ...a, window: next === null ? null : notAfter(next, latest.current) }));
  }, []);
  const change = useCallback((by: Partial<TrendAddress>) => {
    setAddress((a) => ({ ...a, ...by }));
    setAnchor(latest.current);
  }, []);
  return { address, span, reading, follows: chosen === null, onSpan, change };
}

/** The linked charts of a system over one window of time; range, window and comparison are in the URL. */
export function Trends({
  system,
  address: first,
  watches,
  others,
  clock,
  now,
}: {
  readonly system: SystemState;
  readonly watches: readonly WatchView[];
  readonly address: TrendAddress;
  readonly others: readonly { readonly system: string; readonly name: string }[];
  readonly clock: ZoneClock;
  readonly now: number;
}) {
  const { address, span, reading, follows, onSpan, change } = useWindow(first, now);
  const [opened, setOpened] = useState<ReadonlySet<string>>(new Set());
  const log = useLog(system.system, reading);
  const rows = useMemo(() => trendRows(system), [system]);
  const { charted, named } = folded(rows, system, span, opened);
  // Asking the site's clock is dear: once for all charts, not once a chart and frame.
  const nights = useMemo(() => nightsIn(span, clock), [span, clock]);
  const minute = Math.floor(now / 60_000) * 60_000;
  // By the hour: a chart is drawn again whenever its bars are.
  const hour = Math.floor(now / 3_600_000) * 3_600_000;
  const watched = useMemo(() => watchBars(watches, hour, clock), [watches, hour, clock]);
  const { range, compare } = address;
  const compareLabel =
    compare.with === "year"
      ? "a year earlier"
      : compare.with === "system"
        ? (others.find((o) => o.system === compare.system)?.name ?? compare.system)
        : "";
  return (
    <>
      <div className={`${css.tools} no-print`}>
        <nav aria-label="Chart range" className={css.ranges}>
          {RANGES.map((r) => (
            <a
              key={r.id}
              href={writeAddress({ ...address, range: r.id, window: null })}
              aria-current={r.id === range && follows ? "true" : undefined}
              onClick={(event) => {
                // Opening it in another tab stays possible; here only the charts change.
                if (event.metaKey || event.ctrlKey || event.shiftKey) return;
                event.preventDefault();
                change({ range: r.id, window: null });
              }}
            >
              {r.label}
            </a>
          ))}
        </nav>
        <fieldset className={css.steps}>
          <legend className="unseen">Move and zoom all charts</legend>
          {STEPS.map(({ label, sign, change: next }) => (
            <Press key={label} aria-label={label} title={label} onClick={() => onSpan(next(span))}>
              {sign}
            </Press>
          ))}
          <Press disabled={follows} onClick={() => onSpan(null)}>
            now
          </Press>
        </fieldset>
        <CompareForm compare={compare} others={others} onChange={(next) => change({ compare: next })} />
        <p className={css.window} role="status" data-window="">
          {clock.dayClock(span.from, now)} to {follows ? "now" : clock.dayClock(span.to, now)},{" "}
          {clock.name(span.to)}
          {compareLabel !== "" && ` · dashed: ${compareLabel}`}
        </p>
      </div>
      {rows.length === 0 && <p>Nothing is measured in this system yet.</p>}
      {charted.length > 0 && (
        <TimeLane span={span} clock={clock} marks={log.marks} bars={watched} failed={log.failed} />
      )}
      {charted.map((row) => (
        <Trend
          key={row.key}
          system={system}
          row={row}
          span={span}
          reading={reading}
          follows={follows}
          compare={compare}
          compareLabel={compareLabel}
          marks={log.marks}
          watched={watched}
          nights={nights}
          clock={clock}
          now={minute}
          onSpan={onSpan}
        />
      ))}
      <AlsoMeasured
        system={system.system}
        rows={named}
        clock={clock}
        now={minute}
        onOpen={(key) => setOpened(new Set([...opened, key]))}
      />
      <p className={css.key}>
        Squares: bench results · rings: suspect readings, set aside · shaded: target band · dashes: action
        limits · grey: night, 18:00 to 06:00 ·{" "}
        {watched.length > 0 && "bar along the top: a birth or hatching is expected · "}drag, pinch or Ctrl and
        wheel to zoom, Shift and arrow keys to read
      </p>
    </>
  );
}
