"use client";

import { startTransition, useEffect, useId, useRef, useState } from "react";
import type { Span } from "#app/_components/drawing/chart-data.ts";
import type { LogMark } from "#app/_components/drawing/log-marks.ts";
import { read } from "#app/_components/live/send.ts";
import type { SeenAs } from "#app/_components/words/standing-words.ts";
import type { FindingView, SeriesView } from "#contract/views.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import css from "./evidence-chart.module.css";
import { type Evidence, evidenceOf, FIELD, HEIGHT, placeOf, readable, WIDTH } from "./evidence-geometry.ts";

const POINTS = 160;
const DAY = 86_400_000;
/** Charts further away than this are read when the reader comes near. */
const AHEAD = "600px";

type EvidenceSeries = { readonly series: SeriesView } | { readonly says: string } | null;

/** The series behind a finding, read once the drawing comes near, again where the range changes. */
function useEvidence(
  place: { readonly current: Element | null },
  finding: FindingView,
  span: Span,
  now: boolean,
): EvidenceSeries {
  const [found, setFound] = useState<EvidenceSeries>(null);
  const [isNear, setNear] = useState(false);
  useEffect(() => {
    if (place.current === null) return;
    const watch = new IntersectionObserver(
      (seen) => {
        if (seen.some((entry) => entry.isIntersecting)) startTransition(() => setNear(true));
      },
      { rootMargin: AHEAD },
    );
    watch.observe(place.current);
    return () => watch.disconnect();
  }, [place]);
  const { system, quantity, point } = finding;
  const { from, to } = span;
  const isWanted = isNear || now;
  useEffect(() => {
    if (!isWanted) return;
    const stop = new AbortController();
    const query = new URLSearchParams({
      quantity,
      point,
      from: String(from),
      to: String(to),
      points: String(POINTS),
    });
    read<SeriesView>(`/systems/${encodeURIComponent(system)}/series?${query}`, stop.signal).then((answer) => {
      if (stop.signal.aborted) return;
      // Many answer at once: drawn in slices, so that a press in between is handled.
      startTransition(() => setFound(answer.ok ? { series: answer.value } : { says: answer.says }));
    }, console.error);
    return () => stop.abort();
  }, [isWanted, system, quantity, point, from, to]);
  return found;
}

/** What the drawing shows, for somebody who does not see it. */
function sentence(
  finding: FindingView,
  span: Span,
  evidence: Evidence,
  marks: readonly LogMark[],
  clock: ZoneClock,
): string {
  const unit = finding.unitLabel === "" ? "" : ` ${finding.unitLabel}`;
  const range = `${clock.dayClock(span.from)} to ${clock.dayClock(span.to)}`;
  const said = [`${finding.quantityLabel}, ${range}: between ${evidence.least} and ${evidence.most}${unit}.`];
  if (evidence.last !== null) said.push(`Last ${evidence.last.label}${unit}.`);
  const edges = evidence.levels.filter((level) => !level.isLimit).map((level) => level.label);
  const limits = evidence.levels.filter((level) => level.isLimit).map((level) => level.label);
  if (edges.length > 0) said.push(`Edges of the target band ${edges.join(" and ")}.`);
  if (limits.length > 0) said.push(`Action limits ${limits.join(" and ")}.`);
  if (evidence.silence !== null) said.push("No reading since the last one.");
  for (const mark of marks) said.push(`Logbook ${clock.clock(mark.at)}: ${mark.label}.`);
  return said.join(" ");
}

function Marks({
  marks,
  span,
  clock,
}: {
  readonly marks: readonly LogMark[];
  readonly span: Span;
  readonly clock: ZoneClock;
}) {
  let free = FIELD.left - 20;
  return marks.map((mark) => {
    const x = placeOf(mark.at, span);
    const words = `${clock.clock(mark.at)} ${mark.label}`;
    const begins = Math.max(2, x - 14);
    // Words that would run into those before, or off the drawing, stay out; the line stands and the list names it.
    const fits = begins > free && begins + words.length * 5.6 < WIDTH;
    if (fits) free = begins + words.length * 5.6 + 4;
    return (
      <g key={mark.id}>
        <line className={css.mark} x1={x} x2={x} y1={FIELD.top - 2} y2={FIELD.bottom} />
        {fits && (
          <text x={begins} y={FIELD.top - 6}>
            {words}
          </text>
        )}
      </g>
    );
  });
}

function Drawing({
  finding,
  seen,
  span,
  evidence,
  marks,
  clock,
}: {
  readonly finding: FindingView;
  readonly seen: SeenAs;
  readonly span: Span;
  readonly evidence: Evidence;
  readonly marks: readonly LogMark[];
  readonly clock: ZoneClock;
}) {
  const id = useId();
  const { left, right, bottom } = FIELD;
  const time = (at: number) => (span.to - span.from > DAY ? clock.dayClock(at) : clock.clock(at));
  const labels = readable(evidence.levels);
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-labelledby={id} className={css[seen]}>
      <title id={id}>{sentence(finding, span, evidence, marks, clock)}</title>
      {evidence.band !== null && (
        <rect
          className={css.band}
          x={left}
          width={right - left}
          y={evidence.band.top}
          height={Math.max(0, evidence.band.bottom - evidence.band.top)}
        />
      )}
      {evidence.levels.map((level) => (
        <line
          key={`${level.label} ${level.isLimit}`}
          className={level.isLimit ? css.limit : css.edge}
          x1={left}
          x2={right}
          y1={level.y}
          y2={level.y}
        />
      ))}
      {labels.map((level) => (
        <text key={`${level.label} ${level.isLimit}`} x={left - 5} y={level.y + 4} textAnchor="end">
          {level.label}
        </text>
      ))}
      <Marks marks={marks} span={span} clock={clock} />
      {evidence.silence !== null && (
        <>
          <pattern
            id={`${id}-hatch`}
            width="5"
            height="5"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <line className={css.hatch} x1="0" x2="0" y1="0" y2="5" />
          </pattern>
          <rect
            fill={`url(#${id}-hatch)`}
            x={evidence.silence.from}
            width={evidence.silence.to - evidence.silence.from}
            y={FIELD.top}
            height={bottom - FIELD.top}
          />
        </>
      )}
      <path className={css.line} d={evidence.line} />
      {evidence.rings.map((ring) => (
        <circle key={`${ring.x} ${ring.y}`} className={css.ring} cx={ring.x} cy={ring.y} r="2.6" />
      ))}
      {evidence.squares.map((square) => (
        <rect
          key={`${square.x} ${square.y}`}
          className={css.square}
          x={square.x - 3.5}
          y={square.y - 3.5}
          width="7"
          height="7"
        />
      ))}
      {evidence.last !== null && (
        <>
          {evidence.squares.length === 0 && (
            <circle className={css.dot} cx={evidence.last.x} cy={evidence.last.y} r="2.8" />
          )}
          <text
            className={css.last}
            x={right + 7}
            y={evidence.silence === null ? evidence.last.y + 4 : FIELD.top + 12}
          >
            {evidence.silence === null ? `${evidence.last.label} ${finding.unitLabel}` : "not known"}
          </text>
        </>
      )}
      <text x={left} y={HEIGHT - 4}>
        {time(span.from)}
      </text>
      <text x={right} y={HEIGHT - 4} textAnchor="end">
        {time(span.to)} {clock.name(span.to)}
      </text>
    </svg>
  );
}

/** The proof beside the sentence: the night of one quantity, its band, its limits, and what people did. */
export function EvidenceChart({
  finding,
  seen,
  span,
  marks,
  clock,
  now = false,
}: {
  readonly finding: FindingView;
  readonly seen: SeenAs;
  readonly span: Span;
  readonly marks: readonly LogMark[];
  readonly clock: ZoneClock;
  /** Read it without waiting for the reader to come near: for printing. */
  readonly now?: boolean;
}) {
  const place = useRef<HTMLDivElement>(null);
  const found = useEvidence(place, finding, span, now);
  const evidence = found !== null && "series" in found ? evidenceOf(found.series, span) : null;
  return (
    <div ref={place} className={css.chart} data-evidence={found === null ? "waiting" : "ready"}>
      {found === null && <p className={css.note}>Loading the readings ...</p>}
      {found !== null && "says" in found && <p className={css.note}>No chart: {found.says}</p>}
      {found !== null && "series" in found && evidence === null && (
        <p className={css.note}>No readings in this range.</p>
      )}
      {evidence !== null && (
        <Drawing finding={finding} seen={seen} span={span} evidence={evidence} marks={marks} clock={clock} />
      )}
    </div>
  );
}
