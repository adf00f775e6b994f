"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { Change } from "#app/_components/words/change.ts";
import type { SystemSetUpView } from "#contract/set-up-forms.ts";
import { SYSTEM_TYPES } from "#core/set-up/system-type.ts";
import { clockOf } from "#core/time/zone-clock.ts";

const EditSystem = lazy(() => import("./system-editor.tsx").then((m) => ({ default: m.EditSystem })));

/** What the system is. */
export function AboutSection({
  setUp,
  may,
  onChange,
}: {
  readonly setUp: SystemSetUpView;
  readonly may: boolean;
  readonly onChange: (change: Change) => void;
}) {
  const [isEditing, setEditing] = useState(false);
  const clock = clockOf(setUp.zone);
  const facts: readonly (readonly [string, string])[] = [
    ["short name", setUp.system],
    ["site", `${setUp.siteName}, ${setUp.zone}`],
    ["type", SYSTEM_TYPES[setUp.type].label],
    ["description", setUp.kind],
    ["water", setUp.water],
    ["default bands", setUp.startingBands ?? "none"],
    ["volume", `${setUp.volume} m³`],
    ["duty flow", setUp.duty === null ? "not known" : `${setUp.duty} m³/h`],
    ["ammonia test valid for", setUp.youngFilter ? "24 hours" : "7 days"],
    ["loops", setUp.loops.map((loop) => loop.name).join(", ") || "none"],
    ["open since", `${clock.day(setUp.opened)} ${clock.year(setUp.opened)}`],
  ];
  return (
    <section aria-labelledby="about">
      <div className={css.sectionHead}>
        <h2 id="about">System</h2>
        {may && <Button onClick={() => setEditing(true)}>Change</Button>}
      </div>
      <dl className={css.facts}>
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
        {setUp.closed !== null && (
          <div>
            <dt>closed</dt>
            <dd>{clock.full(setUp.closed)}</dd>
          </div>
        )}
      </dl>
      {isEditing && (
        <Suspense>
          <EditSystem
            setUp={setUp}
            onClose={() => setEditing(false)}
            onDone={(change) => {
              setEditing(false);
              onChange(change);
            }}
          />
        </Suspense>
      )}
    </section>
  );
}
