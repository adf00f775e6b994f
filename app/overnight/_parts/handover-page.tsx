"use client";

import { useMemo } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { markOf } from "#app/_components/drawing/log-marks.ts";
import css from "#app/_components/findings/overnight.module.css";
import { Top } from "#app/_components/frame/top.tsx";
import type { HandoverView } from "#contract/handover.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { Completeness, OvernightGroups } from "./overnight-groups.tsx";
import { nightWords } from "./overnight-words.ts";
import { printWhenDrawn, usePrinting } from "./print.ts";
import type { Shown } from "./use-night.ts";

/** A handover as it was signed. Its sentences are the frozen copy; its charts are drawn from the readings as stored. */
export function HandoverPage({
  handover,
  siteName,
}: {
  readonly handover: HandoverView;
  readonly siteName: string;
}) {
  const { overnight: night, unanswered, open, notes } = handover;
  const acknowledged = unanswered.filter(({ state }) => state === "ACK").length;
  const clock = clockOf(handover.zone);
  const [isPrinting, print] = usePrinting(printWhenDrawn);
  const shown = useMemo(
    () =>
      new Map(night.findings.map((finding): [string, Shown] => [finding.id, { finding, hasEnded: false }])),
    [night.findings],
  );
  const marks = useMemo(() => open.map(markOf), [open]);
  return (
    <>
      <Top here="overnight">
        <p>{siteName}</p>
      </Top>
      <main id="main" className={css.page}>
        <p className="no-print">
          <a href="/overnight" className={css.system}>
            Overnight now
          </a>
        </p>
        <div className={css.title}>
          <h1>Handover of {clock.dayClock(handover.signed)}</h1>
          <p className={css.since}>
            {clock.dayClock(handover.from)} to {clock.full(handover.to)}
          </p>
          <p className={css.frozenActs}>
            <Button onClick={print}>Print</Button>
          </p>
        </div>
        <section className={css.signed} aria-label="Signed">
          <p>
            Signed by <b>{handover.signedBy}</b>, {clock.full(handover.signed)}
            {handover.passesTo !== null && (
              <>
                {" "}
                · handed to <b>{handover.passesTo}</b>
              </>
            )}
            . This is what was known then; later changes do not alter it.
          </p>
          {handover.note !== "" && <blockquote>{handover.note}</blockquote>}
          {notes.length > 0 && (
            <ul className={css.passes}>
              {notes.map((note) => (
                <li key={note.system}>
                  <b>{note.name}</b>: {note.text}
                </li>
              ))}
            </ul>
          )}
          <h2>
            {unanswered.length === 0
              ? "No alarms were handed over"
              : `${unanswered.length} ${unanswered.length === 1 ? "alarm" : "alarms"} handed over${handover.passesTo === null ? "" : ` to ${handover.passesTo}`}`}
          </h2>
          {unanswered.length > 0 && (
            <ul className={css.passes}>
              {unanswered.map((alarm) => (
                <li key={alarm.id}>
                  <b>{alarm.systemName}</b>: {alarm.finding?.says ?? alarm.quantityLabel}
                </li>
              ))}
            </ul>
          )}
          {open.length > 0 && (
            <>
              <h2>Still going on then</h2>
              <ul className={css.passes}>
                {open.map((entry) => (
                  <li key={entry.id}>
                    <b>{entry.systems.map(({ name }) => name).join(", ")}</b>: {entry.kindLabel} since{" "}
                    {clock.near(entry.at, handover.to)}
                  </li>
                ))}
              </ul>
            </>
          )}
        </section>
        <p className={css.words}>
          {nightWords(night, unanswered.length - acknowledged, clock, "all night", acknowledged)}
        </p>
        <OvernightGroups
          night={night}
          shown={shown}
          systems={[]}
          marks={marks}
          checkFirst={new Map()}
          incidents={new Map()}
          clock={clock}
          now={handover.to}
          isPrinting={isPrinting}
          calmFor="all night"
          onAcknowledge={null}
          mayLog={false}
        />
        <Completeness night={night} />
        <p className={css.hash}>SHA-256 of the copy as stored: {handover.hash}</p>
      </main>
    </>
  );
}
