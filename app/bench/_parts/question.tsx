"use client";

import { useEffect, useRef } from "react";
import type { Answer } from "#core/bench/answer.ts";
import type { BenchQuestion } from "#core/bench/bench-question.ts";
import css from "./field.module.css";

const ANSWERED: Readonly<Record<Answer, string>> = {
  right: "You said: yes, it is right.",
  again: "You said: not sure. It is kept, flagged, and listed under “test again”.",
  unanswered: "Not answered: it will be saved with the question open.",
};

/** A question at the field with its three answers, and a fourth where another unit was probably meant. */
export function Question({
  asked,
  answer,
  shown,
  onAnswer,
  onOther,
}: {
  asked: BenchQuestion;
  answer: Answer | null;
  /** The value with its unit. */
  shown: string;
  onAnswer: (answer: Answer | "change" | null) => void;
  onOther: (unit: string) => void;
}) {
  const box = useRef<HTMLFieldSetElement>(null);
  const isOpen = answer === null || answer === "unanswered";
  // It must be seen where it is asked, above the pad; where it is seen already nothing moves.
  useEffect(() => {
    if (isOpen) box.current?.scrollIntoView({ block: "nearest" });
  }, [isOpen]);
  if (answer !== null && answer !== "unanswered") {
    return (
      <p className={css.answered}>
        {asked.says} {ANSWERED[answer]}{" "}
        <button type="button" className={css.plain} onClick={() => onAnswer(null)}>
          change the answer
        </button>
      </p>
    );
  }
  const { perhaps } = asked;
  return (
    <fieldset ref={box} className={css.ask} data-asked={asked.code}>
      <legend>{asked.says}</legend>
      {perhaps !== null && (
        <button type="button" className={css.wide} onClick={() => onOther(perhaps.typed)}>
          it is in {perhaps.label}
          <small>keep the digits, change the unit</small>
        </button>
      )}
      <button type="button" onClick={() => onAnswer("right")}>
        yes, it is right
        <small>keep {shown}</small>
      </button>
      <button type="button" onClick={() => onAnswer("change")}>
        no, change it
        <small>type it again</small>
      </button>
      <button type="button" className={css.wide} onClick={() => onAnswer("again")}>
        not sure, test again
        <small>{shown} is kept beside the new result</small>
      </button>
    </fieldset>
  );
}
