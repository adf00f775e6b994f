"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { Change } from "#app/_components/words/change.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { SystemSetUpView } from "#contract/set-up-forms.ts";
import { roleLabel } from "./role-select.tsx";

const AddPoint = lazy(() => import("./add-point.tsx").then((m) => ({ default: m.AddPoint })));

const PointEditor = lazy(() => import("./point-editor.tsx").then((m) => ({ default: m.PointEditor })));

/** Places in a system where something is measured, and what each is for. */
export function PointsSection({
  setUp,
  may,
  onChange,
}: {
  readonly setUp: SystemSetUpView;
  readonly may: boolean;
  readonly onChange: (change: Change) => void;
}) {
  const [isAdding, setAdding] = useState(false);
  const [editing, setEditing] = useState<SystemSetUpView["points"][number] | null>(null);
  const streams = (point: string) => setUp.streams.filter((s) => s.point === point).length;
  return (
    <section aria-labelledby="points">
      <div className={css.sectionHead}>
        <h2 id="points">Points</h2>
        {may && <Button onClick={() => setAdding(true)}>Add a point</Button>}
      </div>
      <ul className={css.points}>
        {setUp.points.map((p) => (
          <li key={p.id}>
            <b>{pointWords(p.code)}</b>
            <small>
              {` ${roleLabel(p.role)}${p.roleGuessed ? ", guessed from its name" : ""} ·`}
              {p.twinOf !== null && ` second probe of ${pointWords(p.twinOf)} ·`} {streams(p.code)}{" "}
              {streams(p.code) === 1 ? "stream" : "streams"}
            </small>
            {may && (
              <Button
                kind="bare"
                onClick={() => setEditing(p)}
                aria-label={`Change what ${pointWords(p.code)} is for`}
              >
                change
              </Button>
            )}
          </li>
        ))}
      </ul>
      {editing !== null && (
        <Suspense>
          <PointEditor
            point={editing}
            setUp={setUp}
            onClose={() => setEditing(null)}
            onDone={(change) => {
              setEditing(null);
              onChange(change);
            }}
          />
        </Suspense>
      )}
      {isAdding && (
        <Suspense>
          <AddPoint
            setUp={setUp}
            onClose={() => setAdding(false)}
            onDone={(change) => {
              setAdding(false);
              onChange(change);
            }}
          />
        </Suspense>
      )}
    </section>
  );
}
