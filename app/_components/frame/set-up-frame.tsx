import type { ReactNode } from "react";
import css from "../controls/forms.module.css";
import { Top } from "./top.tsx";

/** A page below Set-up: the bar, the way back, and what it holds. */
export function SetUpFrame({
  between = null,
  children,
}: {
  /** The page between Set-up and this one. */
  readonly between?: ReactNode;
  readonly children: ReactNode;
}) {
  return (
    <>
      <Top here="set-up" />
      <main id="main" className={css.page}>
        <p className={css.back}>
          <a href="/set-up">Set-up</a> {between}
        </p>
        {children}
      </main>
    </>
  );
}
