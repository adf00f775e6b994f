import type { ReactNode } from "react";
import { GroundSwitch } from "./ground-switch.tsx";
import type { PageId } from "./pages.ts";
import css from "./top.module.css";
import { TopBar } from "./top-bar.tsx";

/** The line over every page: the name, the pages, the ground, and (from the page) site, time and connection. */
export function Top({ here, children }: { here: PageId | null; children?: ReactNode }) {
  return (
    <TopBar here={here}>
      <GroundSwitch />
      <div className={css.status}>{children}</div>
    </TopBar>
  );
}
