import type { ReactNode } from "react";
import { PAGES, type PageId } from "./pages.ts";
import css from "./top.module.css";

/** The name and the pages that exist, and beside them what a page adds. */
export function TopBar({ here, children }: { here: PageId | null; children?: ReactNode }) {
  return (
    <header className={css.top}>
      <a href="/" className={css.brand} aria-label="Homewater, go to your start page">
        <svg viewBox="0 0 32 32" aria-hidden="true" className={css.emblem}>
          <path className={css.rails} d="M2 16H30M2.75 11V21M29.25 11V21" />
          <rect className={css.field} x="9" y="8.5" width="14" height="15" rx="1.5" />
          <path className={css.now} d="M18.5 5V27" />
        </svg>
        <span>Homewater</span>
      </a>
      <nav aria-label="Pages" className={css.nav}>
        {PAGES.map((page) => (
          <a key={page.id} href={page.path} aria-current={here === page.id ? "page" : undefined}>
            {page.label}
          </a>
        ))}
      </nav>
      {children}
    </header>
  );
}
