import { type ReactNode, useId } from "react";
import { EARLY } from "./early.ts";
import { EarlyTyped } from "./early-typed.tsx";
import css from "./field.module.css";

/** What the control inside must carry so that label, hint and error belong to it. */
export interface FieldLinks {
  readonly id: string;
  readonly "aria-describedby": string | undefined;
  readonly "aria-invalid": true | undefined;
  readonly [EARLY]: "";
}

/** A labelled control with its hint and, at the field, what is wrong with it and how to correct it. */
export function Field({
  label,
  hint = "",
  wrong = "",
  className,
  children,
}: {
  readonly label: ReactNode;
  readonly hint?: ReactNode;
  /** Empty where nothing is wrong. */
  readonly wrong?: string;
  readonly className?: string | undefined;
  readonly children: (links: FieldLinks) => ReactNode;
}) {
  const id = useId();
  const said = [hint === "" ? "" : `${id}-hint`, wrong === "" ? "" : `${id}-wrong`].filter((t) => t !== "");
  return (
    <div className={className === undefined ? css.field : `${css.field} ${className}`}>
      <label htmlFor={id}>{label}</label>
      {hint !== "" && (
        <p id={`${id}-hint`} className={css.hint}>
          {hint}
        </p>
      )}
      {children({
        id,
        "aria-describedby": said.length === 0 ? undefined : said.join(" "),
        "aria-invalid": wrong === "" ? undefined : true,
        [EARLY]: "",
      })}
      <EarlyTyped id={id} />
      {wrong !== "" && (
        <p id={`${id}-wrong`} className={css.wrong} role="alert">
          {wrong}
        </p>
      )}
    </div>
  );
}
