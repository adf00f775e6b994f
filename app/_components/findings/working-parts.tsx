import type { UncertaintyPart, WorkingStep } from "#contract/working-views.ts";
import { figuresText } from "#core/units/figures-text.ts";
import { beside } from "#core/units/number-text.ts";
import { partWords } from "#core/working/working-words.ts";
import css from "./working.module.css";

/** What the working of a stored value and of a sum have in common: relation, steps, uncertainty, range and source. */
export function WorkingParts({
  equation,
  expression,
  steps,
  uncertainty,
  unitLabel,
  range,
  source,
}: {
  readonly equation: string;
  readonly expression: readonly string[];
  readonly steps: readonly WorkingStep[];
  readonly uncertainty: readonly UncertaintyPart[];
  readonly unitLabel: string;
  readonly range: string;
  readonly source: string;
}) {
  return (
    <>
      {equation !== "" && (
        <section>
          <h3>Equation</h3>
          <p>{equation}</p>
          {expression.map((line) => (
            <p key={line} className={css.expression}>
              {line}
            </p>
          ))}
        </section>
      )}
      {steps.length > 0 && (
        <section>
          <h3>Steps</h3>
          <dl className={css.rows}>
            {steps.map((step) => (
              <div key={step.name}>
                <dt>{step.name}</dt>
                <dd>{beside(figuresText(step.value), step.unit)}</dd>
              </div>
            ))}
          </dl>
        </section>
      )}
      {uncertainty.length > 0 && (
        <section>
          <h3>Standard uncertainty from</h3>
          <dl className={css.rows}>
            {uncertainty.map((part) => (
              <div key={part.name}>
                <dt>{part.name}</dt>
                <dd>{partWords(part, unitLabel)}</dd>
              </div>
            ))}
          </dl>
        </section>
      )}
      {range !== "" && (
        <section>
          <h3>Valid for</h3>
          <p>{range}</p>
        </section>
      )}
      {source !== "" && (
        <section>
          <h3>Source</h3>
          <p>{source}</p>
        </section>
      )}
    </>
  );
}
