import type { ReactNode } from "react";
import css from "./notice.module.css";

/** A page that has only something to say: empty, not found, failed, loading. */
export function Notice({
  title,
  busy = false,
  children,
}: {
  title: string;
  busy?: boolean;
  children?: ReactNode;
}) {
  return (
    <main id="main" className={css.notice} aria-busy={busy}>
      <h1>{title}</h1>
      {children}
    </main>
  );
}
