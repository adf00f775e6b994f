"use client";

import { useEffect, useState } from "react";
import { type ChartData, chartData, type Span } from "#app/_components/drawing/chart-data.ts";
import type { StreamState } from "#contract/views.ts";
import { type Compare, yearBefore } from "./trend-address.ts";
import { fetchSeries, NotThere } from "./use-series.ts";

/** The line a chart is compared with, moved to the chart's own time; or why there is none. */
export interface Other {
  readonly data: ChartData | null;
  readonly says: string;
}
const NONE: Other = { data: null, says: "" };
const WAIT_MS = 250;

/** The same quantity at another system, or here a year before. The other system may have a probe where this one computes. */
async function readOther(
  system: string,
  stream: StreamState,
  span: Span,
  compare: Compare,
  signal: AbortSignal,
): Promise<Other> {
  const by = compare.with === "year" ? yearBefore(span.from) : 0;
  const moved = { from: span.from - by, to: span.to - by };
  const at = compare.with === "system" ? compare.system : system;
  const series = await fetchSeries(at, stream, moved, signal).catch((failed: unknown) => {
    if (compare.with !== "system" || !(failed instanceof NotThere)) throw failed;
    return fetchSeries(
      at,
      { ...stream, origin: stream.origin === "probe" ? "derived" : "probe" },
      moved,
      signal,
    );
  });
  const shifted = {
    ...series,
    to: series.to + by,
    columns: { ...series.columns, at: series.columns.at.map((t) => t + by) },
  };
  const data = chartData(shifted, null);
  if (data.last === null)
    return {
      data: null,
      says: compare.with === "year" ? "not measured a year earlier" : "not measured there then",
    };
  return { data, says: "" };
}

export function useOther(system: string, stream: StreamState, span: Span, compare: Compare): Other {
  const [other, setOther] = useState<Other>(NONE);
  const { from, to } = span;
  const what = compare.with === "system" ? compare.system : compare.with;
  // biome-ignore lint/correctness/useExhaustiveDependencies: the stream's identity decides, not each new value of it; `what` is the whole of `compare`
  useEffect(() => {
    if (compare.with === "nothing") {
      setOther(NONE);
      return;
    }
    const stop = new AbortController();
    const timer = setTimeout(() => {
      readOther(system, stream, { from, to }, compare, stop.signal).then(setOther, (failed: unknown) => {
        if (stop.signal.aborted) return;
        const says = failed instanceof NotThere ? "not measured there" : "the comparison could not be loaded";
        setOther({ data: null, says });
      });
    }, WAIT_MS);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [system, stream.stream, from, to, what]);
  return other;
}
