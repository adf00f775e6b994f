import type { CalendarItem } from "#contract/calendar.ts";
import type { Instant } from "#core/time/instant.ts";
import { siteDate } from "#core/time/site-month.ts";
import type { SystemSetUp } from "../set-up.ts";

/** The instants that a month spans at some site, [from, to). */
export interface Month {
  readonly from: Instant;
  readonly to: Instant;
  readonly now: Instant;
}

export const KIND_LABELS: Readonly<Record<CalendarItem["kind"], string>> = {
  watch: "window",
  breeding: "breeding",
  birth: "birth",
  stage: "stage",
  move: "move",
  "set-point": "set-point",
  light: "light",
  calibration: "calibration",
  work: "work",
};

type ItemText = Pick<CalendarItem, "id" | "kind" | "says" | "stand" | "href"> & {
  readonly from: Instant | null;
  readonly to?: Instant | null;
  readonly open?: boolean;
};

/** An item with its dates at the site of its system. The last date of a span is the day that holds its last moment. */
export function itemOf(at: SystemSetUp, { to = null, open = false, ...told }: ItemText): CalendarItem {
  const { zone } = at.site;
  return {
    ...told,
    to,
    open,
    label: KIND_LABELS[told.kind],
    system: at.system.code,
    systemName: at.system.name,
    fromDate: told.from === null ? null : siteDate(told.from, zone),
    toDate: to === null ? null : siteDate(Math.max(told.from ?? to, to - 1), zone),
  };
}

/** Whether something that lasts from `from` (null: since ever) to `to` (null: a moment, or without end where `open`) touches the month. */
export function touches(
  { from, to }: Month,
  begins: Instant | null,
  ends: Instant | null,
  open: boolean,
): boolean {
  if (begins !== null && begins >= to) return false;
  if (open) return true;
  return ends === null ? begins !== null && begins >= from : ends > from;
}
