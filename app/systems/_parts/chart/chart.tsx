"use client";

import "uplot/dist/uPlot.min.css";
import { useEffect, useRef, useState } from "react";
import type uPlot from "uplot";
import { type ChartData, nightsIn, type Span, valueRange } from "#app/_components/drawing/chart-data.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { edgeText, numberText } from "#core/units/number-text.ts";
import { roundToFigures } from "#core/units/rounding.ts";
import css from "./chart.module.css";
import { drawOver, drawUnder, inks, lineInk, type Scene } from "./chart-draw.ts";
import { hearGestures, keyed } from "./chart-gestures.ts";
import { loadPlot } from "./load-plot.ts";

export interface ChartProps {
  readonly label: string;
  readonly scene: Omit<Scene, "nights">;
  readonly span: Span;
  readonly clock: ZoneClock;
  /** Nights of the span, where several charts share one; computed here otherwise. */
  readonly nights?: readonly Span[];
  /** In parts of the text size. */
  readonly height?: number;
  /** False where one axis serves many charts. */
  readonly hasTimeAxis?: boolean;
  /** Null = follow the present again. */
  readonly onSpan: (span: Span | null) => void;
  /** Told what lies under the linked cursor; null when it leaves. */
  readonly onCursor: (words: string | null) => void;
  /** Told the same when it was moved by keyboard: somebody asked, so it may be said aloud. */
  readonly onAsked?: (words: string | null) => void;
  readonly onFailure: (failure: Error) => void;
}

const LINKED = "homewater-trends";
const HEIGHT = 8.5;
/** Room for the value axis and for the latest value at the line's end; what stands above a chart keeps to them. */
export const [BEFORE, AFTER] = [3.4, 3.6];
/** Labels of the value axis closer than this (in parts of the text size) would overlap. */
const LEAST_APART = 1;

const columns = (data: ChartData): uPlot.AlignedData => [
  data.at.map((at) => at / 1000),
  data.mean,
  data.low,
  data.high,
];

const xRange = ({ from, to }: Span) => ({ min: from / 1000, max: to / 1000 });

/** Axis labels where they mean something: at the edges and limits; round numbers only where there is no band. */
function levels(scene: Omit<Scene, "nights">, u: uPlot): number[] | null {
  const edges = scene.bands.at(-1)?.edges;
  if (edges === undefined) return null;
  const wanted = [edges.low, edges.high, edges.actionLow, edges.actionHigh].filter((v) => v !== null);
  if (wanted.length < 2) return null;
  const { size } = inks(u.root);
  const kept: number[] = [];
  for (const level of wanted) {
    const y = u.valToPos(level, "y");
    if (kept.every((k) => Math.abs(u.valToPos(k, "y") - y) >= LEAST_APART * size)) kept.push(level);
  }
  return kept.sort((a, b) => a - b);
}

function timeLabels(clock: ZoneClock) {
  return (_u: uPlot, splits: number[], _axis: number, _space: number, incr: number): string[] =>
    splits.map((s) => {
      const at = s * 1000;
      if (incr >= 27 * 86_400) return `${clock.day(at).split(" ")[2]} ${clock.year(at)}`;
      if (incr >= 86_400) return clock.day(at).split(" ").slice(1).join(" ");
      return clock.clock(at) === "00:00" ? clock.day(at) : clock.clock(at);
    });
}

/** The one place where the plotting library is used: line, ribbon, band, limits, nights, gaps, bench, linked cursor. */
export function Chart(props: ChartProps) {
  const box = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const latest = useRef(props);
  latest.current = props;
  const [isReady, setReady] = useState(false);

  useEffect(() => {
    const place = box.current;
    if (place === null) return;
    const end = new AbortController();
    const scene = (): Scene => ({
      ...latest.current.scene,
      nights: latest.current.nights ?? nightsIn(latest.current.span, latest.current.clock),
    });
    const ink = (name: string) => () => inks(place).of(name);
    const size = () => {
      const { size: text } = inks(place);
      const height = Math.round((latest.current.height ?? HEIGHT) * text);
      return { width: Math.max(180, place.clientWidth), height };
    };
    const build = (Plot: typeof uPlot) => {
      const { size: text, face } = inks(place);
      const font = `${Math.round(0.75 * text)}px ${face}`;
      const axis = { font, stroke: ink("ink-soft"), grid: { show: false }, ticks: { show: false } };
      const u = new Plot(
        {
          ...size(),
          padding: [0.5 * text, AFTER * text, 0.25 * text, 0],
          tzDate: (ts) => Plot.tzDate(new Date(ts * 1000), latest.current.clock.zone),
          legend: { show: false },
          cursor: {
            y: false,
            sync: { key: LINKED },
            drag: { x: true, y: false, setScale: false },
            points: { show: false },
          },
          scales: {
            x: { time: true, range: () => [latest.current.span.from / 1000, latest.current.span.to / 1000] },
            y: {
              range: () =>
                [
                  ...valueRange(
                    latest.current.scene.data,
                    latest.current.scene.bands,
                    latest.current.scene.decimals,
                    latest.current.scene.other?.data,
                  ),
                ] as [number, number],
            },
          },
          axes: [
            {
              ...axis,
              show: latest.current.hasTimeAxis ?? true,
              size: 1.6 * text,
              gap: 2,
              space: 5.2 * text,
              values: timeLabels(latest.current.clock),
            },
            {
              ...axis,
              size: BEFORE * text,
              gap: 4,
              space: 2 * text,
              splits: (u, index, min, max, incr, space) =>
                levels(latest.current.scene, u) ?? roundSplits(u, index, min, max, incr, space),
              values: (_u, splits) => splits.map((v) => edgeText(v, latest.current.scene.decimals)),
            },
          ],
          series: [
            {},
            {
              stroke: () => inks(place).of(lineInk(latest.current.scene.seen)),
              width: 1.7,
              spanGaps: false,
              points: { show: false },
            },
            { width: 0, points: { show: false } },
            { width: 0, points: { show: false } },
          ],
          bands: [
            {
              series: [3, 2],
              fill: () => (latest.current.scene.data.hasRibbon ? `${inks(place).of("sweep")}73` : "#0000"),
            },
          ],
          hooks: {
            drawAxes: [(u) => drawUnder(u, scene())],
            draw: [(u) => drawOver(u, scene())],
            setSelect: [
              (u) => {
                if (u.select.width < 6) return;
                const [from, to] = [u.select.left, u.select.left + u.select.width].map(
                  (px) => u.posToVal(px, "x") * 1000,
                );
                u.setSelect({ left: 0, width: 0, top: 0, height: 0 }, false);
                if (from !== undefined && to !== undefined) {
                  latest.current.onSpan({ from: Math.round(from), to: Math.round(to) });
                }
              },
            ],
            setCursor: [(u) => latest.current.onCursor(underCursor(u, latest.current))],
          },
        },
        columns(latest.current.scene.data),
        place,
      );
      plot.current = u;
      const ends = [
        hearGestures(u.over, {
          span: () => latest.current.span,
          change: (span) => latest.current.onSpan(span),
        }),
      ];
      const resize = new ResizeObserver(() => u.setSize(size()));
      resize.observe(place);
      // A change of ground changes colours only; the canvas has to be told.
      const ground = new MutationObserver(() => u.setSize(size()));
      ground.observe(document.documentElement, { attributeFilter: ["data-ground", "data-size"] });
      end.signal.addEventListener("abort", () => {
        resize.disconnect();
        ground.disconnect();
        for (const stop of ends) stop();
        u.destroy();
        plot.current = null;
      });
      // A canvas does not draw itself again when its face has been loaded.
      document.fonts.ready.then(() => {
        if (!end.signal.aborted) u.redraw();
      }, console.error);
      setReady(true);
    };
    loadPlot().then(
      (Plot) => {
        if (!end.signal.aborted) build(Plot);
      },
      (failure: unknown) =>
        latest.current.onFailure(failure instanceof Error ? failure : new Error(String(failure))),
    );
    return () => end.abort();
  }, []);

  const { scene, span, label } = props;
  useEffect(() => {
    if (!isReady || plot.current === null) return;
    plot.current.setData(columns(scene.data), false);
    plot.current.setScale("x", xRange(latest.current.span));
  }, [scene, isReady]);
  useEffect(() => {
    if (!isReady || plot.current === null) return;
    // While a window is dragged only it changes: what was read stays as it is.
    plot.current.setScale("x", xRange(span));
  }, [span, isReady]);

  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would group form fields; this is one drawing
    <div
      ref={box}
      className={css.chart}
      style={{ minHeight: `${props.height ?? HEIGHT}rem` }}
      role="group"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys, plus and minus move and zoom the chart (WCAG 2.2, 2.1.1)
      tabIndex={0}
      aria-label={`${label}. Arrow keys move, plus and minus zoom, Home returns to now, Shift and arrow keys go from reading to reading. The readings are also in the table.`}
      data-ready={isReady ? "" : undefined}
      onKeyDown={(event) => {
        if (event.ctrlKey || event.metaKey || event.altKey) return;
        if (event.shiftKey && (event.key === "ArrowLeft" || event.key === "ArrowRight")) {
          event.preventDefault();
          if (plot.current === null) return;
          step(plot.current, event.key === "ArrowLeft" ? -1 : 1);
          props.onAsked?.(underCursor(plot.current, props));
          return;
        }
        const next = keyed(event.key, span);
        if (next === null) return;
        event.preventDefault();
        props.onSpan(next === "now" ? null : next);
      }}
    />
  );
}

/** Round steps of 1, 2 or 5 for a value axis without a band. */
function roundSplits(
  _u: uPlot,
  _axis: number,
  min: number,
  max: number,
  incr: number,
  _space: number,
): number[] {
  const first = Math.ceil(min / incr);
  const count = Math.max(0, Math.floor(max / incr) - first + 1);
  return Array.from({ length: Math.min(count, 20) }, (_, i) => roundToFigures((first + i) * incr, 12));
}

/** Puts the cursor on the next reading to one side, also on one that was set aside; from outside on the last one. */
function step(u: uPlot, way: 1 | -1): void {
  const times = u.data[0];
  const count = times?.length ?? 0;
  const isOutside = u.cursor.idx == null || (u.cursor.left ?? -1) < 0;
  const index = Math.max(0, Math.min(count - 1, isOutside ? count - 1 : (u.cursor.idx ?? 0) + way));
  const at = times?.[index];
  if (at !== undefined) u.setCursor({ left: u.valToPos(at, "x"), top: u.over.clientHeight / 2 });
}

/** The value of the other line nearest to a moment; null in a gap. */
function nearest(data: ChartData, at: number): number | null {
  let [low, high] = [0, data.at.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((data.at[middle] ?? 0) < at) low = middle + 1;
    else high = middle;
  }
  const near =
    Math.abs((data.at[low - 1] ?? Number.NEGATIVE_INFINITY) - at) < Math.abs((data.at[low] ?? 0) - at);
  return data.mean[near ? low - 1 : low] ?? null;
}

function underCursor(u: uPlot, { scene, clock }: ChartProps): string | null {
  const index = u.cursor.idx;
  if (index == null || (u.cursor.left ?? -1) < 0) return null;
  const at = (u.data[0]?.[index] ?? 0) * 1000;
  const value = u.data[1]?.[index];
  const words = (v: number) => numberText(v, scene.decimals);
  const aside = scene.data.suspect.find((point) => point.at === at);
  const said = [
    aside === undefined
      ? value == null
        ? "no reading"
        : words(value)
      : `${words(aside.value)}, ${scene.data.why.get(at) ?? "suspect, set aside"}`,
  ];
  // Where the band did not stay the same, what it was then belongs to the value.
  const band = scene.bands.length < 2 ? undefined : scene.bands.find((b) => b.from <= at && at < b.to)?.edges;
  const sides = [band?.low ?? null, band?.high ?? null].map((v) =>
    v === null ? "" : edgeText(v, scene.decimals),
  );
  if (sides.some((side) => side !== "")) said.push(`target then ${sides.join(" to ").trim()}`);
  const other = scene.other === undefined ? null : nearest(scene.other.data, at);
  if (other !== null) said.push(`${scene.other?.label} ${words(other)}`);
  return `${clock.dayClock(at)}: ${said.join(" · ")}`;
}
