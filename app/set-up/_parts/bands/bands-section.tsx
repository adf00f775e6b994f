"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import { Strip } from "#app/_components/strip/strip.tsx";
import type { Change } from "#app/_components/words/change.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { BandsView, BandView, SystemSetUpView } from "#contract/set-up-forms.ts";
import type { StreamState, SystemState } from "#contract/views.ts";
import { pointRole } from "#core/set-up/point-role.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { withUnit } from "#core/units/number-text.ts";
import { fromWords, limitWords, targetWords } from "./band-words.ts";

const BandHistory = lazy(() => import("./band-history.tsx").then((m) => ({ default: m.BandHistory })));
const BandEditor = lazy(() => import("./band-editor.tsx").then((m) => ({ default: m.BandEditor })));

const keyOf = (band: BandView) => `${band.quantity} ${band.point ?? ""}`;

/** The stream a band is shown with: at its point, else in the exhibit, else any without a band of its own. */
function shownWith(band: BandView, state: SystemState): StreamState | null {
  const of = state.streams
    .filter((s) => s.quantity === band.quantity)
    .sort((a, b) => Number(a.origin === "bench") - Number(b.origin === "bench"));
  return (
    (band.point === null
      ? (of.find((s) => pointRole(s.role).isAnimalsWater) ?? of[0])
      : of.find((s) => s.point === band.point)) ?? null
  );
}

/** Bands in force, each with its strip, who set it and from where; changing one makes a new version. */
export function BandsSection({
  setUp,
  state,
  view,
  may,
  onChange,
}: {
  readonly setUp: SystemSetUpView;
  readonly state: SystemState;
  readonly view: BandsView;
  readonly may: boolean;
  readonly onChange: (change: Change) => void;
}) {
  const [editing, setEditing] = useState<{ readonly from: BandView | null } | null>(null);
  const [open, setOpen] = useState<string | null>(null);
  const clock = clockOf(view.zone);
  const inForce = view.bands
    .filter((band) => band.inForce)
    .sort(
      (a, b) =>
        a.quantityLabel.localeCompare(b.quantityLabel, "en") || (a.point ?? "").localeCompare(b.point ?? ""),
    );
  return (
    <section aria-labelledby="bands">
      <div className={css.sectionHead}>
        <h2 id="bands">Bands</h2>
        {may && <Button onClick={() => setEditing({ from: null })}>Set a band</Button>}
      </div>
      {inForce.length === 0 ? (
        <p className={css.soft}>
          No band is set, so no reading can be in or out of band and the system’s state is not known.
        </p>
      ) : (
        <div className={css.bands}>
          {inForce.map((band) => {
            const stream = shownWith(band, state);
            const key = keyOf(band);
            const edges = band.months[0];
            return (
              <article key={band.id} aria-label={`${band.quantityLabel} band`} data-band={key}>
                <h3>
                  {band.quantityLabel}
                  <small> {band.point === null ? "every point" : pointWords(band.point)}</small>
                </h3>
                <div className={css.bandNow}>
                  {stream !== null && edges !== undefined && (
                    <Strip stream={{ ...stream, band: stream.band ?? edges }} />
                  )}
                  <small>
                    {stream?.value == null ? "" : withUnit(stream.value, stream.decimals, stream.unitLabel)}
                  </small>
                </div>
                <p>
                  <b>{targetWords(band)}</b> {band.unitLabel}
                  <small className={css.soft}> {limitWords(band)}</small>
                </p>
                <p className={css.soft}>
                  {band.reason} <i>{band.source}</i>, {band.setBy}, {fromWords(band, clock)}
                </p>
                <p className={css.rowButtons}>
                  {may && (
                    <Button
                      onClick={() => setEditing({ from: band })}
                      aria-label={`Change the ${band.quantityLabel} band`}
                    >
                      Change
                    </Button>
                  )}
                  <Button
                    kind="bare"
                    aria-expanded={open === key}
                    aria-label={`History of the ${band.quantityLabel} band`}
                    onClick={() => setOpen(open === key ? null : key)}
                  >
                    history
                  </Button>
                </p>
                {open === key && (
                  <Suspense>
                    <BandHistory
                      system={setUp.system}
                      versions={view.bands.filter((b) => keyOf(b) === key)}
                      clock={clock}
                      may={may}
                      onChange={onChange}
                    />
                  </Suspense>
                )}
              </article>
            );
          })}
        </div>
      )}
      {editing !== null && (
        <Suspense>
          <BandEditor
            setUp={setUp}
            state={state}
            bands={view.bands}
            from={editing.from}
            now={view.now}
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
