"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { Change } from "#app/_components/words/change.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { SystemSetUpView } from "#contract/set-up-forms.ts";
import type { SystemState } from "#contract/views.ts";
import { ageText } from "#core/time/age-text.ts";

type StreamRow = SystemSetUpView["streams"][number];
const StreamEditor = lazy(() => import("./stream-editor.tsx").then((m) => ({ default: m.StreamEditor })));

const everyWords = (seconds: number | null): string =>
  seconds === null ? "not scheduled" : ageText(seconds * 1000);

/** What is measured where, how often it is expected, whether the system can be judged without it, and when it was heard. */
export function StreamsSection({
  setUp,
  state,
  now,
  may,
  onChange,
}: {
  readonly setUp: SystemSetUpView;
  readonly state: SystemState;
  readonly now: number;
  readonly may: boolean;
  readonly onChange: (change: Change) => void;
}) {
  const [editing, setEditing] = useState<StreamRow | null>(null);
  const heard = new Map(state.streams.map((s) => [s.stream, s]));
  const rows = [...setUp.streams].sort(
    (a, b) =>
      a.label.localeCompare(b.label, "en") ||
      a.point.localeCompare(b.point, "en") ||
      a.origin.localeCompare(b.origin),
  );
  return (
    <section aria-labelledby="streams">
      <h2 id="streams">Streams</h2>
      <p className={css.soft}>
        A stream is created by its first reading. Send one to{" "}
        <code>
          homewater/{setUp.site}/{setUp.system}/&lt;point&gt;/&lt;quantity&gt;
        </code>
        . Computed streams are created automatically.
      </p>
      {rows.length > 0 && (
        <table className={css.table}>
          <thead>
            <tr>
              <th scope="col">Quantity</th>
              <th scope="col">Point</th>
              <th scope="col">Origin</th>
              <th scope="col">Expected interval</th>
              <th scope="col">Critical</th>
              <th scope="col">Last reading</th>
              {may && (
                <th scope="col">
                  <span className="unseen">Change</span>
                </th>
              )}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => {
              const at = heard.get(row.stream)?.at ?? null;
              const isSilent = heard.get(row.stream)?.silent ?? false;
              return (
                <tr key={row.stream}>
                  <th scope="row">
                    {row.label} <small>{row.basis.at(-1)?.words ?? row.unitLabel}</small>
                  </th>
                  <td data-label="point">{pointWords(row.point)}</td>
                  <td data-label="origin">{row.origin}</td>
                  <td data-label="expected interval">{everyWords(row.intervalSeconds)}</td>
                  <td data-label="critical">{row.critical ? <b>critical</b> : "no"}</td>
                  <td data-label="last reading" className={isSilent ? css.doubtful : undefined}>
                    {at === null ? "never" : `${ageText(now - at)} ago`}
                    {isSilent && ", silent"}
                  </td>
                  {may && (
                    <td>
                      {(row.origin === "probe" || row.origin === "equipment") && (
                        <Button
                          kind="bare"
                          onClick={() => setEditing(row)}
                          aria-label={`Change ${row.label}, ${pointWords(row.point)}`}
                        >
                          change
                        </Button>
                      )}
                    </td>
                  )}
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
      {editing !== null && (
        <Suspense>
          <StreamEditor
            stream={editing}
            zone={setUp.zone}
            onClose={() => setEditing(null)}
            onDone={(change) => {
              setEditing(null);
              onChange(change);
            }}
          />
        </Suspense>
      )}
    </section>
  );
}
