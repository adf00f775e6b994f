"use client";

import type { FindingView, SystemState, SystemsView } from "../../lib/core/wire/views.ts";
import type { RangeId } from "./chart-window.ts";
import { volumeWords } from "./number-words.ts";
import { streamData } from "./rack-cell.tsx";
import { STANDING_WORD, seenAs } from "./standing-words.ts";
import { StatusLine } from "./status-line.tsx";
import { noteOf, pointWords, streamName } from "./stream-words.ts";
import { Mark } from "./strip.tsx";
import css from "./system-live.module.css";
import { clockOf, type ZoneClock } from "./time-words.ts";
import { Top } from "./top.tsx";
import { stateStreams } from "./trend-rows.ts";
import { Trends } from "./trends.tsx";
import { useLive } from "./use-live.ts";

const SEVERITY_WORD: Readonly<Record<FindingView["severity"], string>> = {
  urgent: "urgent",
  action: "needs action",
  look: "wants a look",
};

function Findings({
  findings,
  clock,
  now,
}: {
  findings: readonly FindingView[];
  clock: ZoneClock;
  now: number;
}) {
  if (findings.length === 0) return null;
  return (
    <section aria-label="Open findings" className={css.findings}>
      <ul>
        {findings.map((finding) => (
          <li key={finding.id} data-finding={finding.kind} data-severity={finding.severity}>
            <Mark
              seen={finding.kind === "silent" ? "doubtful" : finding.severity === "look" ? "look" : "action"}
            />
            <div>
              <b className={finding.severity === "look" ? css.look : css.action}>
                {SEVERITY_WORD[finding.severity]}
              </b>{" "}
              <span className={css.faint}>
                since {clock.near(finding.began, now)}
                {finding.alarm?.acknowledged != null &&
                  `, acknowledged ${clock.near(finding.alarm.acknowledged, now)} by ${finding.alarm.acknowledgedBy ?? "somebody"}`}
                {finding.alarm?.state === "UNACK" && ", unanswered"}
                {finding.late && ", found late"}
              </span>
              <p>{finding.says}</p>
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}

function States({ system, clock, now }: { system: SystemState; clock: ZoneClock; now: number }) {
  const states = stateStreams(system);
  if (states.length === 0) return null;
  return (
    <section aria-label="Equipment and contacts" className={css.states}>
      <dl>
        {states.map((s) => {
          const seen = seenAs(s);
          const note = noteOf(s, system.findings, clock, now);
          return (
            <div key={s.stream} {...streamData(system.system, s)}>
              <dt>{streamName(s)}</dt>
              <dd className={css[seen]}>
                {seen === "calm" ? null : <Mark seen={seen} />}
                {seen === "unknown" ? "not known" : pointWords(s.word ?? "")}
                {note !== "" && <small>{note}</small>}
              </dd>
            </div>
          );
        })}
      </dl>
    </section>
  );
}

/** One system, kept up to date in place. */
export function SystemLive({ code, initial, range }: { code: string; initial: SystemsView; range: RangeId }) {
  const live = useLive(initial, null, code);
  const clock = clockOf(live.view.zone);
  const system = live.view.systems.find((s) => s.system === code);
  const minute = Math.floor(live.now / 60_000) * 60_000;
  if (system === undefined) return null;
  const about = [
    system.volume > 0 ? volumeWords(system.volume) : "",
    system.kind,
    ...system.residents,
  ].filter((t) => t !== "");
  return (
    <>
      <Top here="systems">
        <StatusLine live={live} />
      </Top>
      <main id="main" className={css.page} data-system={system.system} data-standing={system.standing}>
        <p className={css.back}>
          <a href="/systems">All systems</a>
        </p>
        <div className={css.title}>
          <h1>{system.name}</h1>
          <p className={css.about}>{about.join(" · ")}</p>
          <p className={`${css.standing} ${css[system.standing]}`}>
            <Mark seen={system.standing} /> {STANDING_WORD[system.standing]}
          </p>
        </div>
        <Findings findings={system.findings} clock={clock} now={minute} />
        <States system={system} clock={clock} now={minute} />
        <Trends system={system} range={range} clock={clock} now={live.now} />
      </main>
    </>
  );
}
