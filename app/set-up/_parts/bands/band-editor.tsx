"use client";

import { useMemo, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Dialog } from "#app/_components/controls/dialog.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { instantOfWall } from "#app/_components/controls/wall-input.ts";
import { issueAt, type Sent, send } from "#app/_components/live/send.ts";
import type { Change } from "#app/_components/words/change.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { BandView, ChangeAnswer, SystemSetUpView } from "#contract/set-up-forms.ts";
import type { SystemState } from "#contract/views.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import { MONTHS } from "#core/time/names.ts";
import { EDGE_LABEL, EDGES, type Edge, NOTHING, readTyped, type Typed, typedOf } from "./band-draft.ts";
import { BandPreview } from "./band-preview.tsx";

interface Choice {
  readonly quantity: string;
  readonly label: string;
  readonly unitLabel: string;
  readonly decimals: number;
}

/** Numbers that are measured here, and those that have a band without a stream. */
function choicesOf(state: SystemState, bands: readonly BandView[]): Choice[] {
  const all = new Map<string, Choice>();
  for (const { quantity, label, unit, unitLabel, decimals } of state.streams) {
    if (unit !== "") all.set(quantity, { quantity, label, unitLabel, decimals });
  }
  for (const { quantity, quantityLabel, unitLabel, decimals } of bands) {
    if (!all.has(quantity)) all.set(quantity, { quantity, label: quantityLabel, unitLabel, decimals });
  }
  return [...all.values()].sort((a, b) => a.label.localeCompare(b.label, "en"));
}

/** Sets a band: edges and limits with what is wrong at the field, from when, why, whose numbers, and what it would change now. */
export function BandEditor({
  setUp,
  state,
  bands,
  from,
  now,
  onClose,
  onDone,
}: {
  readonly setUp: SystemSetUpView;
  readonly state: SystemState;
  readonly bands: readonly BandView[];
  /** The band to begin with; null begins empty. */
  readonly from: BandView | null;
  readonly now: number;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const choices = useMemo(() => choicesOf(state, bands), [state, bands]);
  const [quantity, setQuantity] = useState(from?.quantity ?? choices[0]?.quantity ?? "");
  const [point, setPoint] = useState(from?.point ?? "");
  const choice = choices.find((c) => c.quantity === quantity);
  const [months, setMonths] = useState<readonly Typed[]>(() =>
    from === null ? [NOTHING] : from.months.map((edges) => typedOf(edges, from.decimals)),
  );
  const [when, setWhen] = useState("");
  const [reason, setReason] = useState("");
  const [source, setSource] = useState(from?.source ?? "");
  const [asked, setAsked] = useState(false);
  const [busy, setBusy] = useState(false);
  const [sent, setSent] = useState<Sent<ChangeAnswer> | null>(null);

  const readings = months.map(readTyped);
  const isSound = readings.every((r) => r.edges !== null && Object.keys(r.wrong).length === 0);
  const edges = isSound ? readings.map((r) => r.edges).filter((e): e is BandEdges => e !== null) : null;
  const begins = when === "" ? null : instantOfWall(when, setUp.zone);
  const reached = state.streams.filter(
    (s) => s.quantity === quantity && (point === "" || s.point === point) && s.origin !== "bench",
  );
  const set = (month: number, edge: Edge, text: string) =>
    setMonths(months.map((typed, i) => (i === month ? { ...typed, [edge]: text } : typed)));
  const monthly = months.length === 12;
  const split = () =>
    setMonths(
      monthly ? [months[new Date(now).getMonth()] ?? NOTHING] : MONTHS.map(() => months[0] ?? NOTHING),
    );

  const submit = async () => {
    setAsked(true);
    if (
      edges === null ||
      reason.trim().length < 3 ||
      source.trim().length < 3 ||
      (when !== "" && begins === null)
    ) {
      return;
    }
    setBusy(true);
    const answer = await send<ChangeAnswer>(`/systems/${encodeURIComponent(setUp.system)}/bands`, {
      quantity,
      point: point === "" ? null : point,
      months: edges,
      ...(begins === null ? {} : { validFrom: new Date(begins).toISOString() }),
      reason: reason.trim(),
      source: source.trim(),
    });
    setBusy(false);
    setSent(answer);
    if (answer.ok)
      onDone({
        says: `${choice?.label ?? quantity} band set. It applies from the next reading on.`,
        answer: answer.value,
      });
  };

  return (
    <Dialog title={from === null ? "Set a band" : `Change the ${from.quantityLabel} band`} onClose={onClose}>
      <form
        className={css.form}
        onSubmit={(event) => {
          event.preventDefault();
          if (!busy) void submit();
        }}
      >
        <div className={css.two}>
          <Field label="Quantity" wrong={issueAt(sent, "quantity")}>
            {(links) => (
              <select
                {...links}
                value={quantity}
                disabled={from !== null}
                onChange={(e) => setQuantity(e.target.value)}
              >
                {choices.map((c) => (
                  <option key={c.quantity} value={c.quantity}>
                    {c.label}
                    {c.unitLabel === "" ? "" : `, ${c.unitLabel}`}
                  </option>
                ))}
              </select>
            )}
          </Field>
          <Field label="Point" wrong={issueAt(sent, "point")}>
            {(links) => (
              <select
                {...links}
                value={point}
                disabled={from !== null}
                onChange={(e) => setPoint(e.target.value)}
              >
                <option value="">every point without its own band</option>
                {setUp.points.map((p) => (
                  <option key={p.id} value={p.code}>
                    {pointWords(p.code)}
                  </option>
                ))}
              </select>
            )}
          </Field>
        </div>
        <fieldset className={css.edgesOf}>
          <legend>
            Edges and limits{choice === undefined || choice.unitLabel === "" ? "" : `, ${choice.unitLabel}`}
            <Button kind="bare" onClick={split}>
              {monthly ? "one band all year" : "month by month"}
            </Button>
          </legend>
          <p className={css.soft}>
            Leave a field empty for no limit on that side.
            {monthly && " Each value applies at mid-month and changes evenly towards the next."}
          </p>
          {months.map((typed, month) => (
            <div className={css.edgeRow} key={MONTHS[month]}>
              {monthly && <b>{MONTHS[month]}</b>}
              {EDGES.map((edge) => (
                <Field
                  key={edge}
                  label={
                    monthly ? (
                      <span className={month === 0 ? undefined : "unseen"}>{EDGE_LABEL[edge]}</span>
                    ) : (
                      EDGE_LABEL[edge]
                    )
                  }
                  wrong={readings[month]?.wrong[edge] ?? ""}
                >
                  {(links) => (
                    <input
                      {...links}
                      value={typed[edge]}
                      inputMode="decimal"
                      autoComplete="off"
                      name={`${edge}-${month}`}
                      onChange={(e) => set(month, edge, e.target.value)}
                    />
                  )}
                </Field>
              ))}
            </div>
          ))}
          {issueAt(sent, "months") !== "" && <p className={css.wrong}>{issueAt(sent, "months")}</p>}
        </fieldset>
        <section aria-live="off">
          <h3>What would change now</h3>
          <BandPreview streams={reached} months={edges} now={now} zone={setUp.zone} />
        </section>
        <Field
          label="Reason"
          hint="Why now? Shown with the band for whoever reads it later"
          wrong={needed(reason, asked) || issueAt(sent, "reason")}
        >
          {(links) => (
            <textarea {...links} value={reason} maxLength={500} onChange={(e) => setReason(e.target.value)} />
          )}
        </Field>
        <div className={css.two}>
          <Field
            label="Source of the numbers"
            hint="A paper, a handbook, a person"
            wrong={needed(source, asked) || issueAt(sent, "source")}
          >
            {(links) => (
              <input {...links} value={source} maxLength={300} onChange={(e) => setSource(e.target.value)} />
            )}
          </Field>
          <Field
            label="From"
            hint={`Empty: now. ${setUp.zone} time. Data from then on is evaluated again`}
            wrong={(when !== "" && begins === null ? "not a valid time" : "") || issueAt(sent, "validFrom")}
          >
            {(links) => (
              <input
                {...links}
                type="datetime-local"
                value={when}
                onChange={(e) => setWhen(e.target.value)}
              />
            )}
          </Field>
        </div>
        {asked && !isSound && (
          <p className={css.wrong} role="alert">
            Some edges are not valid yet: see the fields above.
          </p>
        )}
        {sent !== null && !sent.ok && (
          <p className={css.wrong} role="alert">
            {sent.says}
          </p>
        )}
        <p className={css.buttons}>
          <Button kind="main" type="submit" busy={busy}>
            {busy ? "Sending ..." : "Set the band"}
          </Button>
          <Button onClick={onClose}>Cancel</Button>
        </p>
      </form>
    </Dialog>
  );
}
