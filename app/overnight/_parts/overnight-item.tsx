"use client";

import { lazy, Suspense, useState } from "react";
import { Button, ButtonLink, buttonClasses } from "#app/_components/controls/button.tsx";
import { classes } from "#app/_components/controls/classes.ts";
import type { Span } from "#app/_components/drawing/chart-data.ts";
import type { LogMark } from "#app/_components/drawing/log-marks.ts";
import css from "#app/_components/findings/overnight.module.css";
import { Mark } from "#app/_components/strip/mark.tsx";
import type { SeenAs } from "#app/_components/words/standing-words.ts";
import type { IncidentView } from "#contract/incidents.ts";
import type { FindingView, NightGroup, NightItem, StreamState } from "#contract/views.ts";
import { traitsOf } from "#core/alarms/kinds.ts";
import { durationText } from "#core/time/duration-text.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { lastingWords, leftWords, shortWords } from "./overnight-words.ts";
import { isUnanswered, type Shown } from "./use-night.ts";

/** The sentences are there at once; what draws their proof follows. */
const EvidenceChart = lazy(() =>
  import("./evidence-chart.tsx").then((part) => ({ default: part.EvidenceChart })),
);

const LikelyCauses = lazy(() =>
  import("#app/_components/findings/likely-causes.tsx").then((part) => ({ default: part.LikelyCauses })),
);
const Ahead = lazy(() => import("./ahead.tsx").then((part) => ({ default: part.Ahead })));
const ProbeEvidence = lazy(() =>
  import("./probe-evidence.tsx").then((part) => ({ default: part.ProbeEvidence })),
);

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const NEAR_MS = HOUR / 2;
/** A chart begins before its finding did, but never more than a week ago. */
const LONGEST_MS = 7 * 24 * HOUR;

/** Another finding of the same incident. */
export interface Other {
  readonly shown: Shown;
  readonly left: NightItem["left"];
}
export interface ItemProps {
  readonly shown: Shown;
  readonly item: NightItem;
  readonly group: NightGroup;
  /** The stream behind it now; null on a frozen copy. */
  readonly stream: StreamState | null;
  readonly others: readonly Other[];
  readonly marks: readonly LogMark[];
  readonly checkFirst: string;
  /** What began with it and what may be behind it; null where that is not known. */
  readonly incident: IncidentView | null;
  readonly span: Span;
  readonly clock: ZoneClock;
  readonly now: number;
  readonly isPrinting: boolean;
  /** Null where this reader may not, or where nothing can be answered any more. */
  readonly onAcknowledge: (() => void) | null;
  /** Whether this reader may write what was done about it. */
  readonly mayLog: boolean;
}

/** How it stands now. A finding keeps the most serious it was; where the water came back from its limit, it needs a look. */
function seenOf({ finding, hasEnded }: Shown, stream: StreamState | null): SeenAs {
  if (finding.ended !== null || hasEnded) return "calm";
  const { isNotKnown, easesWithinLimit } = traitsOf(finding);
  if (isNotKnown) return "doubtful";
  const far = stream?.deviation ?? null;
  const isBack = far === null ? (finding.alarm?.cleared ?? null) !== null : Math.abs(far) < 1;
  const isMilder = easesWithinLimit && isBack;
  return finding.severity === "look" || isMilder ? "look" : "action";
}

const TAG: Readonly<Record<SeenAs, string>> = {
  action: "needs action",
  look: "needs a look",
  doubtful: "not known",
  unknown: "not known",
  calm: "ended",
};

/** Who answered, or for how long nobody has. */
function Answer({
  shown: { finding },
  clock,
  now,
}: {
  readonly shown: Shown;
  readonly clock: ZoneClock;
  readonly now: number;
}) {
  const { alarm } = finding;
  if (alarm === null) return null;
  if (isUnanswered(finding))
    return (
      <span className={css.unanswered}>
        not acknowledged{now - alarm.raised < MINUTE ? "" : ` for ${durationText(now - alarm.raised)}`}
      </span>
    );
  if (alarm.acknowledged === null) return null;
  return (
    <span className={css.soft}>
      acknowledged {clock.near(alarm.acknowledged, now)} by {alarm.acknowledgedBy ?? "somebody"}
    </span>
  );
}

function shownSpan(finding: FindingView, { from, to }: Span): Span {
  return { from: Math.max(Math.min(from, finding.began - HOUR), Math.min(from, to - LONGEST_MS)), to };
}

/** One line of what belongs to an event. */
interface Line {
  readonly id: string;
  readonly at: number;
  readonly says: string;
}

/** The other findings of the incident and what people did around its beginning, in order of time. */
function Others({
  of,
  others,
  marks,
  clock,
  now,
}: {
  readonly of: Shown;
  readonly others: readonly Other[];
  readonly marks: readonly LogMark[];
  readonly clock: ZoneClock;
  readonly now: number;
}) {
  const began = Math.min(of.finding.began, ...others.map(({ shown }) => shown.finding.began));
  const done = marks.filter((mark) => Math.abs(mark.at - began) <= NEAR_MS);
  const lines: Line[] = [
    ...done.map(({ id, at, says }) => ({ id, at, says })),
    ...others.map(({ shown: { finding, hasEnded }, left }) => ({
      id: finding.id,
      at: finding.began,
      says: [
        finding.system === of.finding.system ? "" : `${finding.systemName}, same loop: `,
        finding.says,
        finding.ended === null && !hasEnded && left.kind === "reaches"
          ? `; ${leftWords(left, finding.decimals)}`
          : "",
      ].join(""),
    })),
  ].sort((a, b) => a.at - b.at);
  if (lines.length === 0) return null;
  return (
    <div className={css.near}>
      <h4>{others.length === 0 ? "Within 30 minutes of this" : "Belongs to it, in order of time"}</h4>
      <ul>
        {lines.map((line) => (
          <li key={line.id} data-also={line.id}>
            {clock.near(line.at, now)} {line.says}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** An action finding is closed by what somebody did about it: the form opens with its system and its alarm. */
function responseLink({ system, alarm }: FindingView): string {
  return `/logbook?${new URLSearchParams({ add: "", system, alarm: alarm?.id ?? "" })}`;
}

/** One finding: a sentence first, then when, what else, how long is left, and its proof. On a phone three lines and the rest behind "More". */
export function OvernightItem(props: ItemProps) {
  const { shown, item, group, stream, others, marks, checkFirst, incident, span, clock, now, isPrinting } =
    props;
  const { onAcknowledge, mayLog } = props;
  const { finding, hasEnded } = shown;
  const [isAhead, setAhead] = useState(false);
  const seen = seenOf(shown, stream);
  const isActive = finding.ended === null && !hasEnded;
  const { timeLeft, proof } = traitsOf(finding);
  const isNumber = timeLeft !== null;
  const left = isActive && isNumber ? leftWords(item.left, finding.decimals) : "";
  const value = stream !== null && isActive && !stream.silent ? stream.value : null;
  const when = lastingWords(finding, now);
  const unanswered = [shown, ...others.map((other) => other.shown)].filter((row) =>
    isUnanswered(row.finding),
  );
  return (
    <li
      className={classes(css.item, css[seen])}
      data-finding={finding.id}
      data-group={group}
      data-unanswered={unanswered.length > 0 ? "" : undefined}
    >
      <Mark seen={seen} />
      <div className={css.told}>
        <p className={css.line}>
          <a href={`/systems/${encodeURIComponent(finding.system)}`} className={css.system}>
            {finding.systemName}
          </a>
          <span className={css.tag}>{hasEnded ? "ended now" : TAG[seen]}</span>
          {item.course === "worse" && isActive && <span className={css.course}>getting worse</span>}
          {item.course === "recovering" && isActive && <span className={css.soft}>recovering</span>}
          <Answer shown={shown} clock={clock} now={now} />
        </p>
        <h3 className={css.says}>{item.says ?? finding.says}</h3>
        <p className={css.short} aria-hidden="true">
          {item.says ?? shortWords(finding, value)}
        </p>
        <p className={css.when}>
          {left === "" ? when : <span className={css.wide}>{when} · </span>}
          {left !== "" && <span className={css.left}>{left}</span>}
        </p>
        {checkFirst !== "" && (
          <p className={css.check}>
            <b>Check first:</b> {checkFirst}
          </p>
        )}
        <div className={css.more}>
          <Others of={shown} others={others} marks={marks} clock={clock} now={now} />
          {isActive && isNumber && !isPrinting && (
            <Button kind="bare" aria-expanded={isAhead} onClick={() => setAhead(!isAhead)}>
              {isAhead ? "Hide forecast" : "Forecast"}
            </Button>
          )}
          {isAhead && (
            <Suspense fallback={null}>
              <Ahead system={finding.system} point={finding.point} quantity={finding.quantity} />
            </Suspense>
          )}
          {incident !== null && (
            <Suspense fallback={null}>
              <LikelyCauses incident={incident} finding={finding.id} clock={clock} now={now} />
            </Suspense>
          )}
        </div>
      </div>
      {proof === "bench" && stream !== null && (
        <div className={`${css.proof} ${css.more}`}>
          <Suspense fallback={<div className={css.awaited} />}>
            <ProbeEvidence stream={stream.stream} clock={clock} />
          </Suspense>
        </div>
      )}
      {proof === "course" ? (
        <div className={classes(css.proof, css.more)}>
          <Suspense fallback={<div className={css.awaited} data-evidence="waiting" />}>
            <EvidenceChart
              finding={finding}
              seen={seen}
              span={shownSpan(finding, span)}
              marks={marks}
              clock={clock}
              now={isPrinting}
            />
          </Suspense>
        </div>
      ) : (
        !(proof === "bench" && stream !== null) && <div className={css.proof} />
      )}
      <div className={css.acts}>
        {onAcknowledge !== null && unanswered.length > 0 && (
          <Button
            kind="main"
            onClick={onAcknowledge}
            aria-label={`Acknowledge: ${finding.systemName}, ${labelInSentence(finding.quantityLabel)}`}
          >
            {unanswered.length > 1 ? `Acknowledge ${unanswered.length}` : "Acknowledge"}
          </Button>
        )}
        {mayLog &&
          finding.alarm !== null &&
          finding.alarm.acknowledged !== null &&
          !isUnanswered(finding) && (
            <ButtonLink
              href={responseLink(finding)}
              aria-label={`Log the response: ${finding.systemName}, ${labelInSentence(finding.quantityLabel)}`}
            >
              Log the response
            </ButtonLink>
          )}
        {/* The browser's own element, so that it reacts to a press before any script has loaded. */}
        <details className={css.toggle}>
          <summary
            className={buttonClasses("bare")}
            aria-label={`More about ${finding.systemName}, ${labelInSentence(finding.quantityLabel)}`}
          >
            <span className={css.whenShut}>More</span>
            <span className={css.whenOpen}>Less</span>
          </summary>
        </details>
      </div>
    </li>
  );
}
