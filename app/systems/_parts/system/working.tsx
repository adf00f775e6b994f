"use client";

import { useEffect, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Dialog } from "#app/_components/controls/dialog.tsx";
import css from "#app/_components/findings/working.module.css";
import { WorkingParts } from "#app/_components/findings/working-parts.tsx";
import type { WorkingView } from "#contract/working-views.ts";
import { ageText } from "#core/time/age-text.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { inputWords, resultWords } from "#core/working/working-words.ts";

type WorkingRequest =
  | { readonly state: "loading" }
  | { readonly state: "failed"; readonly why: string }
  | { readonly state: "ready"; readonly view: WorkingView };

interface Place {
  readonly system: string;
  readonly quantity: string;
  readonly point: string;
  /** The newest value at or before this instant; now where it is left out. */
  readonly at?: number | undefined;
}

function addressOf({ system, quantity, point, at }: Place): string {
  const query = new URLSearchParams({ quantity, point, ...(at === undefined ? {} : { at: String(at) }) });
  return `/api/v1/systems/${encodeURIComponent(system)}/working?${query}`;
}

function useWorking(place: Place, attempt: number): WorkingRequest {
  const [asked, setAsked] = useState<WorkingRequest>({ state: "loading" });
  const address = addressOf(place);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another attempt reads the same address again
  useEffect(() => {
    const stop = new AbortController();
    setAsked({ state: "loading" });
    fetch(address, { signal: stop.signal })
      .then(async (answer) => {
        const body = (await answer.json()) as WorkingView & { readonly detail?: string };
        if (!answer.ok) throw new Error(body.detail ?? `the server answered ${answer.status}`);
        setAsked({ state: "ready", view: body });
      })
      .catch((failed: unknown) => {
        if (stop.signal.aborted) return;
        setAsked({ state: "failed", why: failed instanceof Error ? failed.message : "no answer" });
      });
    return () => stop.abort();
  }, [address, attempt]);
  return asked;
}

function Sheet({ view, clock }: { readonly view: WorkingView; readonly clock: ZoneClock }) {
  const { at } = view;
  const time = {
    when: (moment: number) => (at === null ? clock.dayClock(moment) : clock.near(moment, at)),
    long: ageText,
  };
  return (
    <div className={css.sheet} data-working={view.quantity} data-value={view.value ?? ""}>
      <p className={css.result}>
        <b>{resultWords(view)}</b>
        {at !== null && <span> {clock.full(at)}</span>}
      </p>
      {view.status === "extrapolated" && (
        <p className={css.caution}>Computed outside the published range of its equation.</p>
      )}
      {view.note !== null && <p className={css.caution}>{view.note}</p>}
      {view.inputs.length > 0 && (
        <section>
          <h3>Inputs</h3>
          <dl className={css.rows}>
            {view.inputs.map((input) => (
              <div key={input.quantity}>
                <dt>{input.label}</dt>
                <dd>{inputWords(input, time)}</dd>
              </div>
            ))}
          </dl>
        </section>
      )}
      <WorkingParts {...view} />
      <p className={css.kept}>
        {view.isStored
          ? "Stored with every reading."
          : "Computed on request. Not stored, because no band needs it."}
      </p>
    </div>
  );
}

function WorkingDialog({
  label,
  clock,
  onClose,
  ...place
}: Place & { readonly label: string; readonly clock: ZoneClock; readonly onClose: () => void }) {
  const [attempt, setAttempt] = useState(0);
  const asked = useWorking(place, attempt);
  return (
    <Dialog title={`Working: ${label}`} onClose={onClose}>
      {asked.state === "loading" && <p role="status">Loading the working ...</p>}
      {asked.state === "failed" && (
        <p role="alert">
          The working could not be loaded: {asked.why}.{" "}
          <Button onClick={() => setAttempt((n) => n + 1)}>Try again</Button>
        </p>
      )}
      {asked.state === "ready" && <Sheet view={asked.view} clock={clock} />}
    </Dialog>
  );
}

/** Beside any derived number: opens to its equation, inputs with time and flag, steps, interval and source. */
export function Working({
  label,
  clock,
  ...place
}: Place & {
  /** Of the quantity, for the button's name and the dialog's title. */
  readonly label: string;
  readonly clock: ZoneClock;
}) {
  const [isOpen, setOpen] = useState(false);
  return (
    <>
      <Button
        kind="bare"
        className="no-print"
        aria-haspopup="dialog"
        aria-label={`Working of ${label}`}
        onClick={() => setOpen(true)}
      >
        working
      </Button>
      {isOpen && <WorkingDialog {...place} label={label} clock={clock} onClose={() => setOpen(false)} />}
    </>
  );
}
