"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import { volumeWords } from "#app/_components/words/number-words.ts";

export interface ListedSystem {
  readonly system: string;
  readonly name: string;
  readonly site: string;
  readonly kind: string;
  readonly volume: number;
  readonly streams: number;
  readonly bands: number;
}

const AddSystem = lazy(() => import("./add-system.tsx").then((m) => ({ default: m.AddSystem })));

/** Every system, to open what is set up of it, and to add one. */
export function SystemsSetUp({
  systems,
  sites,
  mayAdd,
}: {
  readonly systems: readonly ListedSystem[];
  readonly sites: readonly string[];
  readonly mayAdd: boolean;
}) {
  const [isAdding, setAdding] = useState(false);
  return (
    <section aria-labelledby="systems">
      <div className={css.sectionHead}>
        <h2 id="systems">Systems</h2>
        {mayAdd && sites.length > 0 && <Button onClick={() => setAdding(true)}>Add a system</Button>}
      </div>
      {systems.length === 0 ? (
        <p className={css.soft}>No system is set up yet.</p>
      ) : (
        <ul className={css.systems}>
          {systems.map((s) => (
            <li key={s.system}>
              <a href={`/set-up/systems/${encodeURIComponent(s.system)}`}>{s.name}</a>
              <small>
                {[s.volume > 0 ? volumeWords(s.volume) : "", s.kind].filter((t) => t !== "").join(" · ")}
              </small>
              <small>
                {s.streams} {s.streams === 1 ? "stream" : "streams"}, {s.bands}{" "}
                {s.bands === 1 ? "band" : "bands"}
              </small>
            </li>
          ))}
        </ul>
      )}
      {isAdding && (
        <Suspense>
          <AddSystem sites={sites} onClose={() => setAdding(false)} />
        </Suspense>
      )}
    </section>
  );
}
