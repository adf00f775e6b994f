import type { ReactNode } from "react";
import { GroundSwitch } from "./ground-switch.tsx";
import type { PageId } from "./pages.ts";
import { PagesNav } from "./pages-nav.tsx";
import css from "./top.module.css";

/** The line over every page: the name, the pages that exist, and (from the page) site, time and connection. */
export function Top({ here, children }: { here: PageId | null; children?: ReactNode }) {
  return (
    <header className={css.top}>
      <a href="/" className={css.brand} aria-label="Homewater, to your first page">
        <svg viewBox="0 0 32 32" aria-hidden="true" className={css.emblem}>
          <path className={css.rails} d="M2 16H30M2.75 11V21M29.25 11V21" />
          <rect className={css.field} x="9" y="8.5" width="14" height="15" rx="1.5" />
          <path className={css.now} d="M18.5 5V27" />
        </svg>
        <span>Homewater</span>
      </a>
      <PagesNav here={here} />
      <GroundSwitch />
      <div className={css.status}>{children}</div>
    </header>
  );
}
