"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog, needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { ImportView } from "#contract/imports.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { countText } from "#core/units/figures-text.ts";
import { Unanswered } from "../unanswered.tsx";
import type { ImportChoices } from "./import-draft.ts";

const ImportForm = lazy(() => import("./import-form.tsx").then((m) => ({ default: m.ImportForm })));

const STATES = { running: "stopped or in progress", done: "stored", withdrawn: "withdrawn" } as const;

function Withdraw({
  run,
  onClose,
  onDone,
}: {
  readonly run: ImportView;
  readonly onClose: () => void;
  readonly onDone: () => void;
}) {
  const [reason, setReason] = useState("");
  return (
    <FormDialog<ImportView>
      title={`Withdraw ${run.file}`}
      path={`/imports/${encodeURIComponent(run.id)}/withdraw`}
      submit="Withdraw"
      fields={["reason"]}
      body={() => (reason.trim().length < 3 ? null : { reason: reason.trim() })}
      onClose={onClose}
      onDone={onDone}
    >
      {(wrong, asked) => (
        <>
          <p>
            All {countText(run.stored)} readings from this import will be left out of charts, means, findings
            and exports. Nothing is deleted, and the file can be imported again.
          </p>
          <Field
            label="Reason"
            hint="Kept in the audit trail"
            wrong={needed(reason, asked) || wrong("reason")}
          >
            {(links) => (
              <textarea
                {...links}
                rows={2}
                maxLength={500}
                value={reason}
                onChange={(e) => setReason(e.target.value)}
              />
            )}
          </Field>
        </>
      )}
    </FormDialog>
  );
}

/** Imports so far, each to be withdrawn; and the import of another file. */
export function ImportSetUp({ choices, zone }: { readonly choices: ImportChoices; readonly zone: string }) {
  const { answer, again } = useAnswer<{ readonly imports: readonly ImportView[] }>("/imports");
  const [withdrawing, setWithdrawing] = useState<ImportView | null>(null);
  if (!answer?.ok) return <Unanswered answer={answer} what="the imports" onAgain={again} />;
  const clock = clockOf(zone);
  const { imports } = answer.value;
  return (
    <>
      <Suspense fallback={<p role="status">Opening the form ...</p>}>
        <ImportForm choices={choices} runs={imports} clock={clock} onChanged={again} />
      </Suspense>
      <section aria-labelledby="imports">
        <h2 id="imports">Imports so far</h2>
        {imports.length === 0 ? (
          <p className={css.soft}>Nothing has been imported yet.</p>
        ) : (
          <table className={css.table}>
            <thead>
              <tr>
                <th scope="col">File</th>
                <th scope="col">State</th>
                <th scope="col">Readings</th>
                <th scope="col">Started</th>
                <th scope="col">
                  <span className={css.hidden}>Actions</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {imports.map((run) => (
                <tr key={run.id} data-import={run.state}>
                  <th scope="row">{run.file}</th>
                  <td data-label="state">
                    {STATES[run.state]}
                    {run.state === "running" &&
                      ` at ${Math.floor((100 * run.position.bytes) / run.bytes)} %: choose the file again to continue`}
                    {run.withdrawn !== null && (
                      <small>
                        {" "}
                        by {run.withdrawnBy} on {clock.full(run.withdrawn)}: {run.reason}
                      </small>
                    )}
                  </td>
                  <td data-label="readings">{countText(run.stored)}</td>
                  <td data-label="started">
                    {clock.full(run.begun)} <small>{run.begunBy}</small>
                  </td>
                  <td>
                    {run.state !== "withdrawn" && (
                      <Button
                        kind="bare"
                        aria-label={`Withdraw ${run.file}`}
                        onClick={() => setWithdrawing(run)}
                      >
                        Withdraw
                      </Button>
                    )}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {withdrawing && (
          <Withdraw
            run={withdrawing}
            onClose={() => setWithdrawing(null)}
            onDone={() => {
              setWithdrawing(null);
              again();
            }}
          />
        )}
      </section>
    </>
  );
}
