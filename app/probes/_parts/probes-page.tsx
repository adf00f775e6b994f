"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/drawing/probes.module.css";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { CalibrationAnswer, ProbeRow, ProbesView } from "#contract/probes.ts";
import { ageText } from "#core/time/age-text.ts";
import { clockOf, type ZoneClock } from "#core/time/zone-clock.ts";
import { withUnit } from "#core/units/number-text.ts";
import { nameOf } from "./probe-name.ts";

const ProbeDetail = lazy(() => import("./probe-detail.tsx").then((part) => ({ default: part.ProbeDetail })));
const CalibrateForm = lazy(() =>
  import("./calibrate-form.tsx").then((part) => ({ default: part.CalibrateForm })),
);

const DAY = 86_400_000;
/** Later than this from its own time to ours, and the sender's clock or network is worth a word. */
const SLOW = 2 * 60_000;

function dueWords(row: ProbeRow, now: number, clock: ZoneClock): string {
  if (!row.expected) return "";
  if (row.due === null) return "no calibration on record";
  if (row.due <= now) return `overdue since ${clock.day(row.due)}`;
  return row.due - now < 2 * DAY ? `due ${clock.dayClock(row.due)}` : `due ${clock.day(row.due)}`;
}

function clockWords(row: ProbeRow): string {
  if (row.delay === null || Math.abs(row.delay) < SLOW) return "";
  return row.delay > 0
    ? `arrives ${ageText(row.delay)} after its timestamp`
    : `its clock is ${ageText(-row.delay)} ahead`;
}

function Row({
  row,
  now,
  clock,
  may,
  turn,
  onCalibrate,
  onVoided,
}: {
  readonly row: ProbeRow;
  readonly now: number;
  readonly clock: ZoneClock;
  readonly may: boolean;
  /** Rises with every change, so that an open detail is read again. */
  readonly turn: number;
  readonly onCalibrate: () => void;
  readonly onVoided: (says: string) => void;
}) {
  const [isOpen, setOpen] = useState(false);
  const late = clockWords(row);
  return (
    <li
      className={css.probe}
      data-probe={`${row.system}/${row.point}/${row.quantity}`}
      data-letter={row.letter}
    >
      <p>
        <span className={`${css.letter} ${css[row.letter]}`} aria-hidden="true">
          {row.letter === "good" ? "ok" : row.letter}
        </span>
      </p>
      <p>
        <a href={`/systems/${encodeURIComponent(row.system)}`}>{row.systemName}</a>
        <small>
          {row.label}
          {row.point !== "display" && `, ${pointWords(row.point)}`}
          {row.twin !== null && `, twin of ${pointWords(row.twin)}`}
        </small>
      </p>
      <p>
        {row.letter === "good" ? "good" : row.word}
        {row.why !== "" && <small>{row.why}</small>}
        {late !== "" && <small>{late}</small>}
      </p>
      <p>
        {row.value === null ? "no reading" : withUnit(row.value, row.decimals, row.unitLabel)}
        {row.at !== null && <small>{clock.near(row.at, now)}</small>}
      </p>
      <p>
        {row.last === null ? "" : `${row.last.kindLabel} ${clock.day(row.last.at)}`}
        <small>{dueWords(row, now, clock)}</small>
      </p>
      <p className={css.acts}>
        {may && (
          <Button onClick={onCalibrate} aria-label={`Record a calibration: ${nameOf(row)}`}>
            Calibrate
          </Button>
        )}
        <Button
          kind="bare"
          aria-expanded={isOpen}
          aria-label={`${isOpen ? "Less" : "More"} about ${nameOf(row)}`}
          onClick={() => setOpen(!isOpen)}
        >
          {isOpen ? "Less" : "More"}
        </Button>
      </p>
      {isOpen && (
        <Suspense fallback={<p className={css.detail}>Loading this probe ...</p>}>
          <ProbeDetail key={turn} row={row} may={may} clock={clock} onVoided={onVoided} />
        </Suspense>
      )}
    </li>
  );
}

const COUNTED = [
  ["F", "failed"],
  ["C", "being checked"],
  ["S", "out of specification"],
  ["M", "need maintenance"],
  ["good", "good"],
] as const;

/** How far each probe can be believed, and what was done to it. */
export function ProbesPage({ initial, may }: { readonly initial: ProbesView; readonly may: boolean }) {
  const { answer, again } = useAnswer<ProbesView>("/probes");
  const view = answer?.ok ? answer.value : initial;
  const clock = clockOf(view.zone);
  const [calibrating, setCalibrating] = useState<ProbeRow | null>(null);
  const [said, setSaid] = useState("");
  const [turn, setTurn] = useState(0);
  const changed = (says: string) => {
    setSaid(says);
    setTurn((n) => n + 1);
    again();
  };
  return (
    <main id="main" className={css.page}>
      <h1>Probes</h1>
      <p className={css.soft}>
        Health of the probes, not of the water, with the status letters of NAMUR NE 107. Times are{" "}
        {view.zone.replaceAll("_", " ")}, {clock.name(view.now)}; as of {clock.clock(view.now)}.{" "}
        {view.unclaimed !== null && view.unclaimed > 0 && (
          <a href="/rejected">
            {view.unclaimed} {view.unclaimed === 1 ? "unclaimed topic" : "unclaimed topics"}
          </a>
        )}
      </p>
      {answer !== null && !answer.ok && (
        <p className={css.wrong} role="alert">
          The probes could not be updated; this is as of {clock.near(view.now, view.now)}. {answer.says}{" "}
          <Button onClick={again}>Try again</Button>
        </p>
      )}
      <p role="status" className={said === "" ? "unseen" : css.note}>
        {said}
      </p>
      {view.probes.length === 0 ? (
        <p className={css.note}>
          No probe has sent a reading yet. A probe appears here with its first reading.
        </p>
      ) : (
        <>
          <ul className={css.counts} aria-label="Probes by health">
            {COUNTED.filter(([letter]) => view.counts[letter] > 0).map(([letter, words]) => (
              <li key={letter}>
                <b>{view.counts[letter]}</b> {words}
              </li>
            ))}
          </ul>
          <ul className={css.list} aria-label="Probes, worst first">
            {view.probes.map((row) => (
              <Row
                key={row.stream}
                row={row}
                now={view.now}
                clock={clock}
                may={may}
                turn={turn}
                onCalibrate={() => setCalibrating(row)}
                onVoided={changed}
              />
            ))}
          </ul>
        </>
      )}
      {calibrating !== null && (
        <Suspense>
          <CalibrateForm
            row={calibrating}
            zone={view.zone}
            now={view.now}
            onClose={() => setCalibrating(null)}
            onDone={({ calibration }: CalibrationAnswer) => {
              setCalibrating(null);
              changed(`${calibration.kindLabel} of ${nameOf(calibrating)} recorded.`);
            }}
          />
        </Suspense>
      )}
    </main>
  );
}
