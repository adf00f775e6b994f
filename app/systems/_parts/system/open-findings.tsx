"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Mark } from "#app/_components/strip/mark.tsx";
import type { FindingView } from "#contract/views.ts";
import { isUnacknowledged } from "#core/alarms/alarm.ts";
import { isNotKnownKind } from "#core/alarms/finding.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import css from "./system-live.module.css";

/** Only who presses the button needs the dialog. */
const Acknowledge = lazy(() =>
  import("#app/_components/findings/acknowledge.tsx").then((m) => ({ default: m.Acknowledge })),
);

const MANY = 3;

const SEVERITY_WORD: Readonly<Record<FindingView["severity"], string>> = {
  urgent: "urgent",
  action: "needs action",
  look: "needs a look",
};

/** What the evaluator claims now, each with its alarm's answer or the button to give one. */
export function OpenFindings({
  findings,
  clock,
  now,
  mayAcknowledge,
}: {
  readonly findings: readonly FindingView[];
  readonly clock: ZoneClock;
  readonly now: number;
  readonly mayAcknowledge: boolean;
}) {
  const [asked, setAsked] = useState<FindingView | null>(null);
  const [done, setDone] = useState<ReadonlySet<string>>(new Set());
  if (findings.length === 0) return null;
  // A gateway that is away silences all its streams at once: one line, not a page.
  const all = findings.filter((finding) => isNotKnownKind(finding.kind));
  const silent = all.length > MANY ? all : [];
  const shown = findings.filter((finding) => !silent.includes(finding));
  const first = silent.reduce((least, { began }) => Math.min(least, began), now);
  const item = (finding: FindingView) => {
    const { alarm } = finding;
    const isAsked = alarm !== null && isUnacknowledged(alarm.state);
    return (
      <li key={finding.id} data-finding={finding.kind} data-severity={finding.severity}>
        <Mark
          seen={isNotKnownKind(finding.kind) ? "doubtful" : finding.severity === "look" ? "look" : "action"}
        />
        <div>
          <p>{finding.says}</p>
          <b className={finding.severity === "look" ? css.look : css.action}>
            {SEVERITY_WORD[finding.severity]}
          </b>{" "}
          <span className={css.faint}>
            since {clock.near(finding.began, now)}
            {alarm?.acknowledged != null &&
              `, acknowledged ${clock.near(alarm.acknowledged, now)} by ${alarm.acknowledgedBy ?? "somebody"}`}
            {isAsked && ", not acknowledged"}
          </span>
        </div>
        {isAsked && mayAcknowledge && !done.has(alarm.id) && (
          <Button onClick={() => setAsked(finding)} aria-label={`Acknowledge: ${finding.says}`}>
            Acknowledge
          </Button>
        )}
        {isAsked && done.has(alarm.id) && <span role="status">acknowledged</span>}
      </li>
    );
  };
  return (
    <section aria-label="Open findings" className={css.findings}>
      <ul>{shown.map(item)}</ul>
      {silent.length > 0 && (
        <details className={css.many}>
          <summary>
            <Mark seen="doubtful" /> {silent.length} streams silent since {clock.near(first, now)}:{" "}
            {silent
              .slice(0, 4)
              .map((finding) => labelInSentence(finding.quantityLabel))
              .join(", ")}
            {silent.length > 4 && ` and ${silent.length - 4} more`}
          </summary>
          <ul>{silent.map(item)}</ul>
        </details>
      )}
      {asked?.alarm != null && (
        <Suspense>
          <Acknowledge
            findings={[asked]}
            onClose={() => setAsked(null)}
            onAnswer={({ alarm }) => setDone(new Set([...done, alarm]))}
            onDone={() => setAsked(null)}
          />
        </Suspense>
      )}
    </section>
  );
}
