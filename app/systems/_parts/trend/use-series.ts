"use client";

import { useEffect, useState } from "react";
import type { Span, TailPoint } from "#app/_components/drawing/chart-data.ts";
import type { SeriesView, StreamState } from "#contract/views.ts";
import type { TrendRow } from "./trend-rows.ts";

export type Fetched =
  | { readonly state: "loading"; readonly series: SeriesView | null; readonly bench: SeriesView | null }
  | { readonly state: "ready"; readonly series: SeriesView | null; readonly bench: SeriesView | null }
  | { readonly state: "failed"; readonly series: null; readonly bench: null; readonly why: string };

const POINTS = 800;
const WAIT_MS = 200;

/** The system has no such stream: nothing to try again. */
export class NotThere extends Error {}

export async function fetchSeries(
  system: string,
  stream: StreamState,
  span: Span,
  signal: AbortSignal,
): Promise<SeriesView> {
  const query = new URLSearchParams({
    quantity: stream.quantity,
    point: stream.point,
    origin: stream.origin,
    from: String(Math.floor(span.from)),
    to: String(Math.ceil(span.to)),
    points: String(POINTS),
  });
  const answer = await fetch(`/api/v1/systems/${encodeURIComponent(system)}/series?${query}`, { signal });
  if (answer.status === 404) throw new NotThere(`${stream.label} is not measured there`);
  if (!answer.ok)
    throw new Error(`${stream.label} could not be loaded: ${answer.status} ${answer.statusText}`);
  return (await answer.json()) as SeriesView;
}

/** The series of one chart over a span; read again after the span came to rest, old lines stay until then. */
export function useSeries(system: string, row: TrendRow, span: Span, attempt: number): Fetched {
  const [fetched, setFetched] = useState<Fetched>({ state: "loading", series: null, bench: null });
  const { from, to } = span;
  const { main, bench } = row;
  const [mainStream, benchStream] = [main.stream, bench?.stream ?? null];
  // biome-ignore lint/correctness/useExhaustiveDependencies: the stream's identity decides, not each new value of it; `attempt` asks again
  useEffect(() => {
    const stop = new AbortController();
    const read = async () => {
      const [series, results] = await Promise.all([
        main.origin === "bench" ? null : fetchSeries(system, main, { from, to }, stop.signal),
        main.origin === "bench"
          ? fetchSeries(system, main, { from, to }, stop.signal)
          : bench === null
            ? null
            : fetchSeries(system, bench, { from, to }, stop.signal),
      ]);
      setFetched({ state: "ready", series, bench: results });
    };
    const timer = setTimeout(() => {
      read().catch((failed: unknown) => {
        if (stop.signal.aborted) return;
        setFetched({
          state: "failed",
          series: null,
          bench: null,
          why: failed instanceof Error ? failed.message : String(failed),
        });
      });
    }, WAIT_MS);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [system, mainStream, benchStream, from, to, attempt]);
  return fetched;
}

/** Readings that came in since the page was opened, bounded; the chart joins them to what was read. */
export function useTail(stream: StreamState): readonly TailPoint[] {
  const [tail, setTail] = useState<readonly TailPoint[]>([]);
  const { at, value, flag } = stream;
  useEffect(() => {
    if (at === null || value === null) return;
    setTail((had) => ((had.at(-1)?.at ?? 0) < at ? [...had.slice(-5000), { at, value, flag }] : had));
  }, [at, value, flag]);
  return tail;
}
