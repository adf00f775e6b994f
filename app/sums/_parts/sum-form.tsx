"use client";

import { useId, useMemo, useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { WorkingParts } from "#app/_components/findings/working-parts.tsx";
import type { SumAnswer } from "#contract/sum-views.ts";
import {
  answerSum,
  type Sent,
  type Sum,
  type Field as SumField,
  sumNamed,
  sumView,
} from "#core/sums/index.ts";
import css from "./sum-form.module.css";

interface Typed {
  readonly value: string;
  readonly unit: string;
}
type Form = Readonly<Record<string, Typed>>;

const begun = (field: SumField): Typed => {
  if (field.kind === "number")
    return { value: field.example === null ? "" : String(field.example), unit: field.units[0]?.unit ?? "" };
  return { value: field.kind === "choice" ? field.usual : field.example, unit: "" };
};

const sentOf = (form: Form): Record<string, Sent> =>
  Object.fromEntries(
    Object.entries(form).map(([name, { value, unit }]) => [name, unit === "" ? value : { value, unit }]),
  );

interface InputProps {
  readonly field: SumField;
  readonly typed: Typed;
  readonly wrong: string;
  readonly onType: (typed: Typed) => void;
}

function SumInput({ field, typed, wrong, onType }: InputProps) {
  const label = (
    <>
      {field.label}
      {field.kind === "number" && field.units.length === 1 && field.units[0]?.label !== "" && (
        <small> {field.units[0]?.label}</small>
      )}
      {field.isOptional && field.kind === "number" && field.usual === null && <small> if known</small>}
    </>
  );
  return (
    <Field label={label} hint={field.hint ?? ""} wrong={wrong}>
      {(links) =>
        field.kind === "choice" ? (
          <select
            {...links}
            name={field.name}
            value={typed.value}
            onChange={(event) => onType({ ...typed, value: event.target.value })}
          >
            {field.choices.map((choice) => (
              <option key={choice.value} value={choice.value}>
                {choice.label}
              </option>
            ))}
          </select>
        ) : (
          <span className={css.beside}>
            <input
              {...links}
              name={field.name}
              inputMode={field.kind === "number" ? "decimal" : "text"}
              autoComplete="off"
              value={typed.value}
              onChange={(event) => onType({ ...typed, value: event.target.value })}
            />
            {field.kind === "number" && field.units.length > 1 && (
              <select
                aria-label={`Unit of ${field.label}`}
                value={typed.unit}
                onChange={(event) => onType({ ...typed, unit: event.target.value })}
              >
                {field.units.map((unit) => (
                  <option key={unit.unit} value={unit.unit}>
                    {unit.label === "" ? "no unit" : unit.label}
                  </option>
                ))}
              </select>
            )}
          </span>
        )
      }
    </Field>
  );
}

function Result({ answer }: { readonly answer: SumAnswer | null }) {
  if (answer === null) return <p>Fill in the fields to see the result.</p>;
  return (
    <>
      {answer.status === "invalid" ? (
        <p className={css.invalid}>No valid result: {answer.note ?? "these inputs do not give one"}.</p>
      ) : (
        <dl className={css.outputs}>
          {answer.outputs.map((output) => (
            <div key={output.name} data-output={output.name} data-value={output.value ?? ""}>
              <dt>{output.label}</dt>
              <dd>{output.text}</dd>
            </div>
          ))}
        </dl>
      )}
      {answer.status === "extrapolated" && (
        <p className={css.caution}>Outside the published range: {answer.note}.</p>
      )}
      {answer.status === "ok" && answer.note !== null && <p className={css.caution}>{answer.note}</p>}
    </>
  );
}

function useSum(sum: Sum) {
  const [form, setForm] = useState<Form>(() =>
    Object.fromEntries(sum.fields.map((field) => [field.name, begun(field)])),
  );
  const found = useMemo(() => answerSum(sum, sentOf(form)), [sum, form]);
  return { form, setForm, found };
}

function SumSheet({ sum }: { readonly sum: Sum }) {
  const { form, setForm, found } = useSum(sum);
  const id = useId();
  const wrongOf = (name: string) => {
    const issue = found.ok ? undefined : found.issues.find((each) => each.field === name);
    return issue === undefined ? "" : `${issue.says}: ${issue.remedy}`;
  };
  const answer = found.ok ? found.answer : null;
  return (
    <div className={css.sheet} data-sum={sum.name}>
      <form aria-label={sum.label} className={css.form} onSubmit={(event) => event.preventDefault()}>
        {sum.fields.map((field) => (
          <SumInput
            key={field.name}
            field={field}
            typed={form[field.name] ?? begun(field)}
            wrong={wrongOf(field.name)}
            onType={(typed) => setForm((before) => ({ ...before, [field.name]: typed }))}
          />
        ))}
      </form>
      <div>
        <section aria-labelledby={`${id}-result`}>
          <h2 id={`${id}-result`}>Result</h2>
          <div role="status" aria-live="polite">
            <Result answer={answer} />
          </div>
          <ul className={css.cautions}>
            {sumView(sum).cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </section>
        {answer !== null && (
          <details className={css.working} open>
            <summary>Working</summary>
            <WorkingParts {...answer} unitLabel={answer.outputs[0]?.unit ?? ""} />
          </details>
        )}
      </div>
    </div>
  );
}

/** One sum, computed as it is typed; nothing is sent and nothing stored. */
export function SumForm({ name }: { readonly name: string }) {
  const sum = sumNamed(name);
  return sum === undefined ? null : <SumSheet sum={sum} />;
}
