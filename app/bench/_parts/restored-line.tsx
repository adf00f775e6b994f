"use client";

import { Button } from "#app/_components/controls/button.tsx";
import { clockOf } from "#core/time/zone-clock.ts";
import css from "./bench.module.css";
import type { DraftHold } from "./use-draft.ts";

/** What the device found, could not keep, or has just cleared. */
export function RestoredLine({ hold, now, zone }: { hold: DraftHold; now: number; zone: string }) {
  if (hold.isUnkept) {
    return (
      <p className={css.wrong} role="alert">
        This browser does not keep what you type: save before you close or leave this page.
      </p>
    );
  }
  if (hold.cleared !== null) {
    return (
      <p className={css.restored} role="status">
        Form cleared. <Button onClick={hold.undoClear}>Undo</Button>
      </p>
    );
  }
  if (hold.restoredAt === null) return null;
  return (
    <p className={css.restored} role="status">
      Restored from this device: typed {clockOf(zone).near(hold.restoredAt, now)}, not saved yet.{" "}
      <Button onClick={hold.clear}>Clear the form</Button>
    </p>
  );
}
