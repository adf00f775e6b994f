"use client";

import { useState } from "react";
import { classes } from "#app/_components/controls/classes.ts";
import { Mark } from "#app/_components/strip/mark.tsx";
import type { SeenAs } from "#app/_components/words/standing-words.ts";
import type { AmmoniaAnswer } from "#contract/answers.ts";
import type { BenchWaterView } from "#contract/bench-water.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import { censoredDeviation, deviation } from "#core/habitat/deviation.ts";
import { ageText } from "#core/time/age-text.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { figuresText } from "#core/units/figures-text.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { edgeText, numberText } from "#core/units/number-text.ts";
import { STAND_WORDS } from "./bench-words.ts";
import css from "./field.module.css";
import { useLazy } from "./use-lazy.ts";

const working = () => import("#core/working/explain-ammonia.ts");

const DECIMALS = 3;

function seenIn(answer: AmmoniaAnswer, band: BandEdges | null): SeenAs | null {
  if (answer.value === null || band === null) return null;
  const past =
    answer.qualifier === "="
      ? deviation(answer.value, band)
      : censoredDeviation(answer.value, answer.qualifier === "<" ? "below" : "above", band);
  if (past === null) return "doubtful";
  if (past === 0) return "calm";
  return Math.abs(past) >= 1 ? "action" : "look";
}

function Inputs({ answer, now, zone }: { answer: AmmoniaAnswer; now: number; zone: string }) {
  const clock = clockOf(zone);
  const said = answer.inputs.map(({ quantity, label, value, unitLabel, at, origin }) => {
    const unit = unitLabel === "" ? "" : ` ${unitLabel}`;
    const decimals = quantity === "ph" ? 2 : quantity === "total_ammonia" ? 3 : 1;
    const name = quantity === "salinity" ? "S" : labelInSentence(label);
    const when =
      at === null || origin === "this test"
        ? origin
        : `${origin} ${clock.near(at, now)}, ${ageText(now - at)} old`;
    return `${name} ${numberText(value, decimals)}${unit} (${when})`;
  });
  return <p className={css.small}>with {said.join(", ")}</p>;
}

function Working({ answer, water }: { answer: AmmoniaAnswer; water: BenchWaterView["water"] }) {
  const part = useLazy(working);
  if (part === null) return <p>Loading the working ...</p>;
  if (part === "failed") return <p>The working cannot be loaded without a connection.</p>;
  const of = (quantity: string) => answer.inputs.find((input) => input.quantity === quantity)?.value ?? NaN;
  const told = part.explainAmmonia({
    ph: of("ph"),
    phScale: answer.phScale,
    t: of("temperature"),
    s: of("salinity"),
    water,
    tan: of("total_ammonia"),
    tanRelative: 0.1,
  });
  return (
    <dl className={css.working}>
      <dt>Equation</dt>
      <dd>
        {told.expression.map((line) => (
          <span key={line} className={css.lineOf}>
            {line}
          </span>
        ))}
      </dd>
      {told.steps.map(({ name, value, unit }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>
            {figuresText(value, 4)} {unit}
          </dd>
        </div>
      ))}
      <dt>Valid for</dt>
      <dd>{told.range}</dd>
      <dt>Source</dt>
      <dd>{told.source}</dd>
    </dl>
  );
}

/** A computed answer with its band, its inputs and their ages, and its working. */
export function AmmoniaSaid({
  answer,
  band,
  water,
  now,
  zone,
}: {
  answer: AmmoniaAnswer;
  band: BandEdges | null;
  water: BenchWaterView["water"];
  now: number;
  zone: string;
}) {
  const [isOpen, setOpen] = useState(false);
  const seen = seenIn(answer, band);
  const tone = seen === "look" || seen === "action" ? css[seen] : "";
  const edge = band?.high == null ? "" : ` (band up to ${edgeText(band.high, DECIMALS)})`;
  return (
    <div className={classes(css.computed, tone)} data-ammonia={answer.value ?? answer.status}>
      <p>
        {seen !== null && <Mark seen={seen} />} {answer.says}
        {seen !== null && `: ${STAND_WORDS[seen]}${edge}`}
      </p>
      <Inputs answer={answer} now={now} zone={zone} />
      {answer.formula !== null && (
        <div className={css.formula}>
          <p className={css.small}>
            {answer.formula}, pH on the {answer.phScale.toUpperCase()} scale; the interval holds the true
            value about 19 times in 20
          </p>
          <details className={css.small} onToggle={(event) => setOpen(event.currentTarget.open)}>
            <summary>Show the working</summary>
            {isOpen && <Working answer={answer} water={water} />}
          </details>
        </div>
      )}
    </div>
  );
}
