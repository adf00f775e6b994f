"use client";

import { useEffect, useRef, useState } from "react";
import { Press } from "#app/_components/controls/press.tsx";
import { Top } from "#app/_components/frame/top.tsx";
import type { BenchFormView } from "#contract/bench-form-view.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import css from "./bench.module.css";
import { many } from "./bench-words.ts";
import type { Waiting } from "./device-store.ts";
import { EntryForm } from "./entry-form.tsx";
import { withChange, withStored } from "./here-now.ts";
import { Later } from "./later.tsx";
import { loadEarlier, loadRestored, loadSaved } from "./parts-later.ts";
import { QueueLine } from "./queue-line.tsx";
import { SampleLine } from "./sample-line.tsx";
import { TestAgain } from "./test-again.tsx";
import { useClock } from "./use-clock.ts";
import { useDraft } from "./use-draft.ts";
import { useOnline } from "./use-online.ts";
import { useQueue } from "./use-queue.ts";
import { useWater } from "./use-water.ts";

export interface BenchPageData {
  readonly view: BenchFormView;
  /** Every quantity that may be added, by name. */
  readonly quantities: readonly { readonly quantity: string; readonly label: string }[];
  /** Who types, as the server knows them. */
  readonly user: string;
}

/** One system's bench: a form that survives a reload, a queue that survives the network, and what is stored, to correct. */
export function BenchForm({ view, quantities, user }: BenchPageData) {
  const { now, clock } = useClock(view.now);
  const isOnline = useOnline();
  const queue = useQueue(user);
  const hold = useDraft(user, view.system, view.water.point, clock);
  const { draft } = hold;
  const [here, setHere] = useState(view.here);
  const [saved, setSaved] = useState<Waiting | null>(null);
  const [says, setSays] = useState("");
  const [isEarlier, setEarlier] = useState(false);
  const water = useWater(view.water, draft.point, draft.sampledAt);
  const merged = useRef(new Set<string>());
  const goTo = useRef<string | null>(null);
  const answer = saved === null ? null : (queue.answers.get(saved.clientId) ?? null);

  // Whatever was sent, now or later, stands among the last results from then on.
  useEffect(() => {
    for (const [id, stored] of queue.answers) {
      if (merged.current.has(id) || stored.system !== view.system) continue;
      merged.current.add(id);
      setHere((known) => withStored(known, stored));
    }
  }, [queue.answers, view.system]);

  const unitName = (unit: string) => {
    for (const { field } of here) {
      const found = field.units.find((one) => one.typed === unit);
      if (found) return found.label;
    }
    return unit;
  };
  const labelOf = (quantity: string) =>
    quantities.find((one) => one.quantity === quantity)?.label ?? quantity;
  const ammoniaBand = view.ammoniaBands.find(({ point }) => point === draft.point)?.band ?? null;

  const reopen = (one: Waiting) => {
    queue
      .reopen(one)
      .then((isOpen) => {
        if (!isOpen) return setSays(`Save or clear the form for ${one.systemName} first.`);
        if (one.draft.system !== view.system)
          return location.assign(`/bench/${encodeURIComponent(one.draft.system)}`);
        setSaved(null);
        hold.putBack(one.draft);
      })
      .catch((failed: unknown) => console.error("The test could not be opened again", failed));
  };
  const zone = clockOf(view.zone);
  const usual = here.filter((row) => row.point === draft.point).length;
  const doubted = here.filter(({ last: [newest] }) => newest?.answer === "again");
  const filled = Object.values(draft.typed).filter(({ text }) => text.trim() !== "").length;
  return (
    <>
      <Top here="bench">
        <p suppressHydrationWarning>
          {view.siteName} · {zone.full(now)}
        </p>
      </Top>
      <main id="main" className={css.page}>
        <div className={css.head}>
          <div className={css.title}>
            <a href="/bench" className={css.back}>
              Bench
            </a>
            <h1>{view.name}</h1>
            {saved === null && usual > 0 && (
              <span className={css.soft} data-filled={filled}>
                {filled} of {Math.max(usual, filled)} filled in
              </span>
            )}
            {queue.waiting.length > 0 && (
              <span className={css.tag}>
                {isOnline ? "" : "no connection · "}
                {many(queue.waiting.length, "test")} not sent
              </span>
            )}
          </div>
          {saved === null && (
            <SampleLine
              point={draft.point}
              points={view.points}
              sampledAt={draft.sampledAt}
              now={now}
              zone={view.zone}
              onPoint={(point) => hold.set({ point })}
              onSampledAt={(sampledAt) => hold.set({ sampledAt })}
            />
          )}
          {saved === null && (
            <div className={css.progress} aria-hidden="true">
              <i style={{ width: `${(100 * filled) / Math.max(usual, filled, 1)}%` }} />
            </div>
          )}
        </div>
        <QueueLine queue={queue} user={user} isOnline={isOnline} onReopen={reopen} />
        <p role="alert" className={css.wrong} hidden={says === ""}>
          {says}
        </p>
        {saved === null ? (
          <>
            {(hold.isUnkept || hold.cleared !== null || hold.restoredAt !== null) && (
              <Later load={loadRestored}>
                {({ RestoredLine }) => <RestoredLine hold={hold} now={now} zone={view.zone} />}
              </Later>
            )}
            {doubted.length > 0 && (
              <TestAgain
                here={doubted}
                now={now}
                zone={view.zone}
                label={unitName}
                onGo={(row) => {
                  goTo.current = row.field.quantity;
                  hold.set({ point: row.point });
                }}
              />
            )}
            <EntryForm
              view={view}
              here={here}
              quantities={quantities}
              hold={hold}
              water={water}
              ammoniaBand={ammoniaBand}
              now={now}
              clock={clock}
              goTo={goTo}
              queue={queue}
              onSaved={(one) => {
                setSays("");
                setSaved(one);
                hold.renew();
              }}
            />
          </>
        ) : (
          <Later
            key={saved.clientId}
            load={loadSaved}
            missing={
              <p className={css.waits} role="status" data-saved={answer === null ? "here" : "stored"}>
                {answer === null ? "Saved on this device, not yet sent." : "Stored."}{" "}
                <Press className={css.asLink} onClick={() => setSaved(null)}>
                  Another test here
                </Press>
              </p>
            }
          >
            {({ SavedPanel }) => (
              <SavedPanel
                saved={saved}
                answer={answer}
                label={unitName}
                ammoniaBand={ammoniaBand}
                water={water.water}
                now={now}
                zone={view.zone}
                labelOf={labelOf}
                onAnother={() => setSaved(null)}
                onChanged={(change) => setHere((known) => withChange(known, change))}
              />
            )}
          </Later>
        )}
        {(isEarlier || here.some(({ last }) => last.length > 0)) && (
          <details className={css.earlier} onToggle={(event) => setEarlier(event.currentTarget.open)}>
            <summary>Correct an earlier result</summary>
            {isEarlier && (
              <Later
                load={loadEarlier}
                missing={<p>Earlier results cannot be shown without a connection.</p>}
              >
                {({ EarlierResults }) => (
                  <EarlierResults
                    here={here}
                    now={now}
                    zone={view.zone}
                    label={unitName}
                    onChanged={(change) => setHere((known) => withChange(known, change))}
                  />
                )}
              </Later>
            )}
          </details>
        )}
        <p className={css.soft}>
          This page needs a connection to open. Once it is open you can type and save offline: everything is
          kept on this device and sent when the connection is back, with the time the sample was taken.
        </p>
      </main>
    </>
  );
}
