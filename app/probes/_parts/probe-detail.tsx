"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog, needed } from "#app/_components/controls/form-dialog.tsx";
import { AgreementChart } from "#app/_components/drawing/agreement-chart.tsx";
import css from "#app/_components/drawing/probes.module.css";
import { newClientId } from "#app/_components/live/send.ts";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { CalibrationAnswer, CalibrationView, ProbeRow, ProbeView } from "#contract/probes.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { highText, intervalText, lowText } from "#core/units/bound-text.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { numberText, signedText, withUnit } from "#core/units/number-text.ts";

function agreementWords(view: ProbeView): string {
  const { agreement, unitLabel, decimals } = view;
  if (!agreement) return "";
  const words = (value: number) => withUnit(value, decimals + 1, unitLabel);
  return `${agreement.n} tests since it was last calibrated or replaced: the probe reads ${words(Math.abs(agreement.bias))} ${agreement.bias < 0 ? "below" : "above"} the bench tests on average (95 % interval ${intervalText(agreement.biasLow, agreement.biasHigh, decimals + 1)}); 95 % of single differences are expected between ${lowText(agreement.low, decimals + 1)} and ${highText(agreement.high, decimals + 1)}.`;
}

function Bench({ view, clock }: { readonly view: ProbeView; readonly clock: ZoneClock }) {
  const { regression, perMonth, differenceUnit, decimals } = view;
  return (
    <section aria-label="Against bench tests">
      <h3>Against bench tests</h3>
      {view.pairs.length === 0 ? (
        <p className={css.soft}>
          No bench test of this quantity at this point to compare the probe with yet.
        </p>
      ) : (
        <AgreementChart view={view} clock={clock} />
      )}
      {view.drifting && <p className={css.wrong}>The probe has drifted from the bench tests.</p>}
      {agreementWords(view) !== "" && <p>{agreementWords(view)}</p>}
      {perMonth !== null && (
        <p>It drifts by {signedText(perMonth, decimals + 1, differenceUnit)} in 30 days.</p>
      )}
      <p className={css.soft}>
        {regression === null
          ? view.pairs.length > 0 &&
            "Whether the error changes over the range cannot be told: the water is too steady."
          : `Over its range the probe reads ${numberText(regression.slope, 3)} times the bench value.`}
      </p>
      <p className={css.soft}>{view.says}</p>
    </section>
  );
}

function Beside({ view, clock }: { readonly view: ProbeView; readonly clock: ZoneClock }) {
  const last = view.twinDays.at(-1);
  return (
    <section aria-label="Twin and steps">
      {view.twin !== null && (
        <>
          <h3>Twin</h3>
          <p>{view.twinSays}</p>
          {last && (
            <p className={css.soft}>
              Daily difference {signedText(last.difference, view.decimals + 1, view.unitLabel)},{" "}
              {clock.day(last.at)}
              {view.twinMoved !== null && `; apart since ${clock.day(view.twinMoved)}`}.
            </p>
          )}
        </>
      )}
      {view.steps.length > 0 && (
        <>
          <h3>Steps</h3>
          <ul>
            {view.steps.map((step) => (
              <li key={step.at}>
                {clock.dayClock(step.at)}: {step.says}
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

function foundWords(row: CalibrationView, view: ProbeView): string {
  const parts: string[] = [];
  const signed = (value: number) => signedText(value, view.decimals, view.unitLabel);
  if (row.error) parts.push(`error ${signed(row.error.total)}`);
  if (row.worst && row.worst.standard !== null && row.standards.length > 1)
    parts.push(`worst ${signed(row.worst.error)} in ${numberText(row.worst.standard, view.decimals)}`);
  if (row.line)
    parts.push(`as found, slope ${numberText(row.line.slope, 0)} % and offset ${signed(row.line.offset)}`);
  if (row.slope !== null) parts.push(`slope ${row.slope} %`);
  if (row.offset !== null) parts.push(`offset ${row.offset} mV`);
  if (row.grade !== null) parts.push(`record rated ${row.grade}`);
  if (row.correction !== null) parts.push("correction stored");
  return parts.join(", ");
}

function Visits({
  view,
  clock,
  may,
  onVoid,
}: {
  readonly view: ProbeView;
  readonly clock: ZoneClock;
  readonly may: boolean;
  readonly onVoid: (row: CalibrationView) => void;
}) {
  return (
    <section aria-label="Service history">
      <h3>Service history</h3>
      {view.calibrations.length === 0 ? (
        <p className={css.soft}>No calibration on record.</p>
      ) : (
        <table className={css.table}>
          <thead>
            <tr>
              <th scope="col">When</th>
              <th scope="col">What</th>
              <th scope="col">Found</th>
              <th scope="col">By</th>
              {may && (
                <th scope="col">
                  <span className="unseen">Void</span>
                </th>
              )}
            </tr>
          </thead>
          <tbody>
            {view.calibrations.map((row) => (
              <tr key={row.id} className={row.voided === null ? undefined : css.void}>
                <th scope="row">{clock.dayClock(row.at)}</th>
                <td>{row.kindLabel}</td>
                <td>{foundWords(row, view)}</td>
                <td>{row.by}</td>
                {may && (
                  <td>
                    {row.voided === null && (
                      <Button
                        kind="bare"
                        onClick={() => onVoid(row)}
                        aria-label={`Void the ${labelInSentence(row.kindLabel)} of ${clock.dayClock(row.at)}`}
                      >
                        void
                      </Button>
                    )}
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function VoidForm({
  row,
  onClose,
  onDone,
}: {
  readonly row: CalibrationView;
  readonly onClose: () => void;
  readonly onDone: () => void;
}) {
  const [clientId] = useState(newClientId);
  const [reason, setReason] = useState("");
  return (
    <FormDialog<CalibrationAnswer>
      title={`Void this ${labelInSentence(row.kindLabel)}`}
      path={`/calibrations/${row.id}/void`}
      submit="Void"
      fields={["reason"]}
      body={() => (reason.trim().length < 3 ? null : { clientId, reason: reason.trim() })}
      onClose={onClose}
      onDone={onDone}
    >
      {(wrong, asked) => (
        <Field
          label="Reason"
          hint="It stays on record but no longer counts, nor does its correction"
          wrong={needed(reason, asked) || wrong("reason")}
        >
          {(links) => (
            <textarea
              {...links}
              value={reason}
              maxLength={500}
              onChange={(event) => setReason(event.target.value)}
            />
          )}
        </Field>
      )}
    </FormDialog>
  );
}

/** One probe: its chart against the bench, its twin, and everything that was done to it. */
export function ProbeDetail({
  row,
  may,
  clock,
  onVoided,
}: {
  readonly row: ProbeRow;
  readonly may: boolean;
  readonly clock: ZoneClock;
  readonly onVoided: (says: string) => void;
}) {
  const { answer, again } = useAnswer<ProbeView>(`/streams/${row.stream}/probe`);
  const [voiding, setVoiding] = useState<CalibrationView | null>(null);
  if (answer === null) return <p className={css.detail}>Loading this probe ...</p>;
  if (!answer.ok)
    return (
      <p className={css.detail} role="alert">
        {answer.says} <Button onClick={again}>Try again</Button>
      </p>
    );
  const view = answer.value;
  return (
    <div className={css.detail}>
      <Bench view={view} clock={clock} />
      <Beside view={view} clock={clock} />
      <Visits view={view} clock={clock} may={may} onVoid={setVoiding} />
      {voiding !== null && (
        <VoidForm
          row={voiding}
          onClose={() => setVoiding(null)}
          onDone={() => {
            setVoiding(null);
            onVoided(`${voiding.kindLabel} of ${clock.dayClock(voiding.at)} voided.`);
          }}
        />
      )}
    </div>
  );
}
