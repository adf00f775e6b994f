"use client";

import { lazy, type ReactNode, Suspense, useMemo, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { markOf } from "#app/_components/drawing/log-marks.ts";
import css from "#app/_components/findings/overnight.module.css";
import { Top } from "#app/_components/frame/top.tsx";
import { StatusLine } from "#app/_components/live/status-line.tsx";
import { useLive } from "#app/_components/live/use-live.ts";
import type { HandoversView } from "#contract/handover.ts";
import type { IncidentView } from "#contract/incidents.ts";
import type { LogEntryView } from "#contract/log.ts";
import type { NightCountsView } from "#contract/night-counts.ts";
import type { AcknowledgeAnswer } from "#contract/people.ts";
import type { OvernightView, SystemsView } from "#contract/views.ts";
import { durationText } from "#core/time/duration-text.ts";
import { clockOf, type ZoneClock } from "#core/time/zone-clock.ts";
import { askingWords, NIGHT_RANGES, nightWords } from "./overnight-words.ts";
import { printWhenDrawn, usePrinting } from "./print.ts";
import { isUnanswered, lacksResponse, type Shown, useNight, useSaid } from "./use-night.ts";

// Rendered by the server and readable at once; buttons work once the script has loaded.
const OvernightGroups = lazy(() =>
  import("./overnight-groups.tsx").then((part) => ({ default: part.OvernightGroups })),
);
const Completeness = lazy(() =>
  import("./overnight-groups.tsx").then((part) => ({ default: part.Completeness })),
);
const NightCounts = lazy(() => import("./night-counts.tsx").then((part) => ({ default: part.NightCounts })));
const Acknowledge = lazy(() =>
  import("#app/_components/findings/acknowledge.tsx").then((part) => ({ default: part.Acknowledge })),
);
const SignHandover = lazy(() =>
  import("./sign-handover.tsx").then((part) => ({ default: part.SignHandover })),
);

export interface OvernightProps {
  readonly initial: SystemsView;
  readonly rejected: number | null;
  readonly night: OvernightView;
  readonly log: readonly LogEntryView[];
  /** What breeding watches ask to be counted tonight. */
  readonly counts: NightCountsView;
  /** What began together in the range and what may be behind it. */
  readonly incidents: readonly IncidentView[];
  readonly handovers: HandoversView["handovers"];
  readonly may: { readonly acknowledge: boolean; readonly sign: boolean; readonly log: boolean };
  /** Which range was asked for; empty: since the last handover. */
  readonly since: string;
  /** Senders whose clock is wrong. */
  readonly clocks?: ReactNode;
}

/** What was acknowledged here and the live feed does not know yet. */
type Answered = ReadonlyMap<string, AcknowledgeAnswer>;

function withAnswers(shown: ReadonlyMap<string, Shown>, answered: Answered): ReadonlyMap<string, Shown> {
  if (answered.size === 0) return shown;
  return new Map(
    [...shown].map(([id, row]) => {
      const { alarm } = row.finding;
      const answer = alarm === null ? undefined : answered.get(alarm.id);
      if (alarm === null || answer === undefined || alarm.acknowledged !== null) return [id, row];
      const state = alarm.state === "UNACK" ? ("ACK" as const) : ("NORMAL" as const);
      const seen = { ...alarm, state, acknowledged: answer.at, acknowledgedBy: answer.by };
      return [id, { ...row, finding: { ...row.finding, alarm: seen } }];
    }),
  );
}

function Earlier({
  handovers,
  clock,
  now,
}: {
  readonly handovers: HandoversView["handovers"];
  readonly clock: ZoneClock;
  readonly now: number;
}) {
  return (
    <section className={`${css.earlier} no-print`} aria-labelledby="earlier">
      <h2 id="earlier">Earlier handovers</h2>
      {handovers.length === 0 ? (
        <p>None has been signed yet. Until one is, the night starts at 18:00.</p>
      ) : (
        <ul>
          {handovers.map((row) => (
            <li key={row.id}>
              <a href={`/overnight/${encodeURIComponent(row.id)}`}>{clock.near(row.signed, now)}</a>{" "}
              <span>
                {row.signedBy}
                {row.passesTo !== null && ` to ${row.passesTo}`}
                {row.unanswered > 0 &&
                  `, ${row.unanswered} ${row.unanswered === 1 ? "alarm" : "alarms"} handed over`}
              </span>
              {row.note !== "" && <small>{row.note}</small>}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** What moved since the last handover, kept true in place. */
export function OvernightLive({
  initial,
  rejected,
  night: first,
  log,
  counts,
  incidents,
  handovers,
  may,
  since,
  clocks,
}: OvernightProps) {
  const live = useLive(initial, rejected);
  const { night, shown, fresh, changes, failed, refresh } = useNight(first, live);
  const said = useSaid(fresh);
  const clock = clockOf(live.view.zone);
  const now = Math.floor(live.now / 60_000) * 60_000;
  const [answered, setAnswered] = useState<Answered>(new Map());
  const [asked, setAsked] = useState<readonly Shown[]>([]);
  const [isSigning, setSigning] = useState(false);
  const [isPrinting, print] = usePrinting(printWhenDrawn);
  const [done, setDone] = useState("");
  const rows = useMemo(() => withAnswers(shown, answered), [shown, answered]);
  const marks = useMemo(() => log.map(markOf).sort((a, b) => a.at - b.at), [log]);
  const byFinding = useMemo(
    () =>
      new Map(
        incidents.flatMap((incident) =>
          incident.members.map((member) => [member.finding, incident] as const),
        ),
      ),
    [incidents],
  );
  const checkFirst = useMemo(() => {
    const first = new Map<string, string>();
    for (const [finding, incident] of byFinding) {
      const [best] = incident.causes;
      if (best)
        first.set(finding, best.caution === null ? best.checkFirst : `${best.checkFirst}. ${best.caution}`);
    }
    for (const entry of log)
      if (entry.overdue !== null) for (const { system } of entry.systems) first.set(system, entry.overdue);
    return first;
  }, [log, byFinding]);
  const told = [...[...rows.values()].map(({ finding }) => finding), ...fresh];
  const unanswered = told.filter(isUnanswered).length;
  const withoutResponse = told.filter((finding) => lacksResponse(finding, night)).length;
  const unlisted = night.summary.unlisted ?? 0;
  const calmFor = since === "" ? "all night" : "throughout";
  const isSinceHandover = handovers[0]?.signed === night.from;
  return (
    <>
      <Top here="overnight">
        <StatusLine live={live} />
      </Top>
      <main id="main" className={css.page} data-unanswered={unanswered}>
        <div className={css.title}>
          <h1>Overnight</h1>
          <p className={css.since}>
            since {isSinceHandover ? "the handover of " : ""}
            {clock.dayClock(night.from)} {clock.name(night.from)} · {durationText(now - night.from)}
          </p>
          <nav aria-label="Range" className={`${css.ranges} no-print`}>
            {NIGHT_RANGES.map(({ id, label }) => (
              <a
                key={id}
                href={id === "" ? "/overnight" : `/overnight?since=${id}`}
                aria-current={id === since ? "true" : undefined}
              >
                {label}
              </a>
            ))}
          </nav>
          <p className={css.headActs}>
            <span
              className={unanswered + withoutResponse + unlisted === 0 ? css.soft : css.unanswered}
              data-asking={unanswered + withoutResponse + unlisted}
            >
              {askingWords(unanswered, withoutResponse, unlisted)}
            </span>
            {may.sign && (
              <Button kind="main" onClick={() => setSigning(true)}>
                Sign the handover
              </Button>
            )}
            <Button className={css.print} onClick={print}>
              Print
            </Button>
          </p>
        </div>
        <p className={css.words}>{nightWords(night, unanswered, clock, calmFor, withoutResponse)}</p>
        {clocks}
        {changes > 0 && (
          <p className={css.changed}>
            {fresh.length > 0 && `${fresh.length} new ${fresh.length === 1 ? "finding" : "findings"}. `}
            {changes > fresh.length && `${changes - fresh.length} ended since. `}
            <Button onClick={() => void refresh()}>Update the list</Button>
          </p>
        )}
        {failed !== "" && (
          <p className={css.wrong} role="alert">
            The list could not be updated. {failed}
          </p>
        )}
        <Suspense
          fallback={
            <p role="status" className={css.coming}>
              Loading the findings ...
            </p>
          }
        >
          <OvernightGroups
            night={night}
            shown={rows}
            systems={live.view.systems}
            marks={marks}
            checkFirst={checkFirst}
            incidents={byFinding}
            clock={clock}
            now={now}
            isPrinting={isPrinting}
            calmFor={calmFor}
            onAcknowledge={may.acknowledge ? setAsked : null}
            mayLog={may.log}
          />
          {counts.counts.length > 0 && <NightCounts view={counts} may={may.log} now={now} />}
          <Completeness night={night} />
        </Suspense>
        <Earlier handovers={handovers} clock={clock} now={now} />
        <p className="unseen" role="status">
          {done === "" ? said : done}
        </p>
      </main>
      <Suspense fallback={null}>
        {asked.length > 0 && (
          <Acknowledge
            findings={asked.map(({ finding }) => finding)}
            onClose={() => setAsked([])}
            onAnswer={(answer) => setAnswered((had) => new Map([...had, [answer.alarm, answer]]))}
            onDone={() => {
              setDone(
                `Acknowledged: ${asked.map(({ finding }) => `${finding.systemName}, ${finding.quantityLabel}`).join("; ")}.`,
              );
              setAsked([]);
            }}
          />
        )}
        {isSigning && <SignHandover clock={clock} onClose={() => setSigning(false)} />}
      </Suspense>
    </>
  );
}
