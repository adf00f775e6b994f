"use client";

import { lazy, Suspense, useState } from "react";
import type { SystemSetUpView } from "#contract/set-up-forms.ts";
import { Button } from "../button.tsx";
import { pointWords } from "../point-words.ts";
import type { Change } from "./change-note.tsx";
import css from "./set-up.module.css";

const AddPoint = lazy(() => import("./add-point.tsx").then((m) => ({ default: m.AddPoint })));

/** Places in a system where water is measured. */
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
              {p.twinOf !== null && ` second probe of ${pointWords(p.twinOf)} ·`} {streams(p.code)}{" "}
              {streams(p.code) === 1 ? "stream" : "streams"}
            </small>
          </li>
        ))}
      </ul>
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
