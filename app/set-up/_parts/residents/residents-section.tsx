"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { Change } from "#app/_components/words/change.ts";
import { dayWords, poolWords, watchWords, whoWords } from "#app/_components/words/habitat-words.ts";
import type { ResidentsView, StayView, WatchView } from "#contract/habitat.ts";
import { monthRuns } from "#core/time/month-names.ts";
import { monthShort } from "#core/time/names.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { AskedBands } from "./asked-bands.tsx";
import { signedRange } from "./signed-words.ts";

const forms = () => import("./resident-forms.tsx");
const MoveInForm = lazy(() => forms().then((m) => ({ default: m.MoveInForm })));
const MoveForm = lazy(() => forms().then((m) => ({ default: m.MoveForm })));
const StageForm = lazy(() => forms().then((m) => ({ default: m.StageForm })));
const CorrectForm = lazy(() => forms().then((m) => ({ default: m.CorrectForm })));
const watching = () => import("./breeding-forms.tsx");
const WatchForm = lazy(() => watching().then((m) => ({ default: m.WatchForm })));
const WatchEventForm = lazy(() => watching().then((m) => ({ default: m.WatchEventForm })));
const WithdrawCompromise = lazy(() =>
  import("./withdraw-compromise.tsx").then((m) => ({ default: m.WithdrawCompromise })),
);
const BirthForm = lazy(() => watching().then((m) => ({ default: m.BirthForm })));

type Open =
  | { readonly kind: "in" | "watch" | "birth" }
  | { readonly kind: "move" | "stage" | "correct"; readonly stay: StayView }
  | { readonly kind: "event"; readonly watch: WatchView }
  | { readonly kind: "withdraw"; readonly signed: ResidentsView["compromises"][number] };

/** Who lives in a system, which bands they ask for, and breeding watches. */
export function ResidentsSection({
  view,
  may,
  onChange,
}: {
  readonly view: ResidentsView;
  readonly may: boolean;
  readonly onChange: (change: Change) => void;
}) {
  const [open, setOpen] = useState<Open | null>(null);
  const clock = clockOf(view.zone);
  const close = () => setOpen(null);
  const shared = {
    view,
    onClose: close,
    onDone: (change: Change) => {
      close();
      onChange(change);
    },
  };
  return (
    <>
      <section aria-labelledby="residents">
        <div className={css.sectionHead}>
          <h2 id="residents">Residents</h2>
          {may && <Button onClick={() => setOpen({ kind: "in" })}>Move in</Button>}
        </div>
        {view.residents.length === 0 ? (
          <p className={css.soft}>
            No residents. Until animals move in, the bands are the default bands or set by hand.
          </p>
        ) : (
          <ul className={css.stays}>
            {view.residents.map((stay) => (
              <li key={stay.id} data-stay={stay.id}>
                <p>
                  <b>
                    <a href={`/animals/${encodeURIComponent(stay.animal)}`}>{whoWords(stay)}</a>
                  </b>{" "}
                  <span className={css.soft}>{stay.stage}</span>
                  <small className={css.soft}>
                    {" "}
                    {stay.sex === null ? "" : `${stay.sex} · `}since {dayWords(stay.from, clock, "")}
                    {stay.population === null ? "" : ` · from ${stay.population}`}
                    {stay.hasProfile ? "" : " · no profile: its needs are not known"}
                  </small>
                </p>
                {may && (
                  <p className={css.rowButtons}>
                    <Button
                      aria-label={`Move ${whoWords(stay)}`}
                      onClick={() => setOpen({ kind: "move", stay })}
                    >
                      Move
                    </Button>
                    <Button
                      aria-label={`Stage of ${whoWords(stay)}`}
                      onClick={() => setOpen({ kind: "stage", stay })}
                    >
                      Stage
                    </Button>
                    <Button
                      kind="bare"
                      aria-label={`Correct ${whoWords(stay)}`}
                      onClick={() => setOpen({ kind: "correct", stay })}
                    >
                      correct
                    </Button>
                  </p>
                )}
              </li>
            ))}
          </ul>
        )}
        {view.before.length > 0 && (
          <details>
            <summary>Lived here before: {view.before.length}</summary>
            <ul className={css.stays}>
              {view.before.map((stay) => (
                <li key={stay.id}>
                  <p className={css.soft}>
                    {whoWords(stay)} ({stay.stage}), {dayWords(stay.from, clock, "")} to{" "}
                    {dayWords(stay.to, clock, "")}
                    {stay.ended === null ? "" : `, ${stay.ended}`}
                  </p>
                </li>
              ))}
            </ul>
          </details>
        )}
      </section>
      <AskedBands view={view} may={may} onChange={onChange} />
      <section aria-labelledby="breeding">
        <div className={css.sectionHead}>
          <h2 id="breeding">Breeding</h2>
          {may && (
            <p className={css.rowButtons}>
              {view.residents.length > 0 && (
                <Button onClick={() => setOpen({ kind: "watch" })}>Open a watch</Button>
              )}
              {view.species.length > 0 && (
                <Button onClick={() => setOpen({ kind: "birth" })}>Record a birth</Button>
              )}
            </p>
          )}
        </div>
        {view.watches.length === 0 ? (
          <p className={css.soft}>No breeding watches here.</p>
        ) : (
          <ul className={css.stays}>
            {view.watches.map((watch) => (
              <li key={watch.id} data-watch={watch.id}>
                <div>
                  <p>
                    <b>{watch.who}</b>: {watch.kind}, {watchWords(watch, clock)}
                  </p>
                  <p className={css.soft}>
                    {watch.shortestDays} to {watch.longestDays} days ({watch.source}), first day{" "}
                    {dayWords(watch.first, clock, "not known")}, last day{" "}
                    {dayWords(watch.last, clock, "not known")}
                  </p>
                  {watch.stand !== "ended" && watch.kind === "gestation" && (
                    <p className={css.soft} data-pup-pool={watch.pool?.system ?? ""}>
                      {poolWords(watch.pool)}
                    </p>
                  )}
                  {watch.events.map((event) => (
                    <p key={event.id} className={css.soft}>
                      {dayWords(event.at, clock, "")}, {event.by}: {event.says}
                    </p>
                  ))}
                </div>
                {may && watch.stand !== "ended" && (
                  <p className={css.rowButtons}>
                    <Button
                      aria-label={`Add to the breeding watch: ${watch.who}`}
                      onClick={() => setOpen({ kind: "event", watch })}
                    >
                      Add
                    </Button>
                  </p>
                )}
              </li>
            ))}
          </ul>
        )}
        {view.watches.some((watch) => watch.stand !== "ended" && watch.stand !== "before") && (
          <p className={css.soft}>
            During the window: no set-point ramps or planned catch-ups; count every night; check overflow and
            suction guards; have the pup pool cycled and at the mother's temperature and salinity. Common
            practice, no source.
          </p>
        )}
      </section>
      {open !== null && (
        <Suspense>
          {open.kind === "in" && <MoveInForm {...shared} />}
          {open.kind === "move" && <MoveForm {...shared} stay={open.stay} />}
          {open.kind === "stage" && <StageForm {...shared} stay={open.stay} />}
          {open.kind === "correct" && <CorrectForm {...shared} stay={open.stay} />}
          {open.kind === "watch" && <WatchForm {...shared} />}
          {open.kind === "birth" && <BirthForm {...shared} />}
          {open.kind === "event" && <WatchEventForm {...shared} watch={open.watch} />}
          {open.kind === "withdraw" && <WithdrawCompromise {...shared} signed={open.signed} />}
        </Suspense>
      )}
      {view.compromises.length > 0 && (
        <section aria-labelledby="compromises">
          <h2 id="compromises">Signed compromises</h2>
          <ul className={css.stays}>
            {view.compromises.map((signed) => (
              <li key={signed.id} data-compromise={signed.id}>
                <p>
                  <b>
                    {signed.label} {signedRange(signed)}
                  </b>
                  , {monthRuns(signed.months, monthShort)}, between {signed.between}: {signed.reason}
                  <small className={css.soft}>
                    {" "}
                    {signed.signedBy}, {dayWords(signed.signed, clock, "")}, from{" "}
                    {dayWords(signed.from, clock, "")}
                    {signed.to === null ? "" : ` to ${dayWords(signed.to, clock, "")}, withdrawn`}
                  </small>
                </p>
                {may && signed.to === null && (
                  <p className={css.rowButtons}>
                    <Button
                      aria-label={`Withdraw the compromise for ${signed.label}`}
                      onClick={() => setOpen({ kind: "withdraw", signed })}
                    >
                      Withdraw
                    </Button>
                  </p>
                )}
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
