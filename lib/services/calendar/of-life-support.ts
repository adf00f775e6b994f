import type { CalendarItem } from "#contract/calendar.ts";
import { isVoid, scheduleWords } from "#core/light/index.ts";
import { inForce, type LogEntry } from "#core/logbook/entry.ts";
import { LOG_KINDS, type LogKindId } from "#core/logbook/kinds.ts";
import type { Calibration, CalibrationKind } from "#core/probes/calibration.ts";
import { dueAt } from "#core/probes/due.ts";
import { isInForce } from "#core/time/in-force.ts";
import { siteDate } from "#core/time/site-month.ts";
import { withUnit } from "#core/units/number-text.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Habitat } from "#store/port.ts";
import { isProbe } from "../probes/probe-rows.ts";
import type { IndexedSetUp, SystemSetUp } from "../set-up.ts";
import { itemOf, type Month, touches } from "./item.ts";

const homeAt = (at: SystemSetUp) => `/home-water/${encodeURIComponent(at.system.code)}`;

/** Set-points of adopted plans, in the time that each plan holds. */
export function planItems(
  at: SystemSetUp,
  habitat: Pick<Habitat, "seasonPlans">,
  month: Month,
): CalendarItem[] {
  return habitat.seasonPlans
    .filter((plan) => plan.system === at.system.id)
    .flatMap((plan) => {
      const { label, unitLabel, decimals } = labelOf(plan.quantity);
      return plan.setPoints
        .filter(([when]) => isInForce(plan, when))
        .filter(([when]) => touches(month, when, null, false))
        .map(([when, value]) =>
          itemOf(at, {
            id: `${plan.id}/${when}`,
            kind: "set-point",
            says: `${label} to ${withUnit(value, decimals, unitLabel)}, adopted by ${plan.adoptedBy}`,
            stand: when > month.now ? "planned" : "done",
            from: when,
            href: homeAt(at),
          }),
        );
    });
}

/** Light schedules from the moment that they hold. */
export function lightItems(
  at: SystemSetUp,
  habitat: Pick<Habitat, "lightPlans">,
  month: Month,
): CalendarItem[] {
  return habitat.lightPlans
    .filter((plan) => plan.system === at.system.id && !isVoid(plan))
    .filter((plan) => touches(month, plan.validFrom, null, false))
    .map((plan) =>
      itemOf(at, {
        id: plan.id,
        kind: "light",
        says: `Light schedule: ${scheduleWords(plan)}`,
        stand: plan.validFrom > month.now ? "planned" : "done",
        from: plan.validFrom,
        href: `/set-up/systems/${encodeURIComponent(at.system.code)}#light`,
      }),
    );
}

/** More than so many are counted, not named. */
const NAMED = 3;
const DONE: Readonly<Record<CalibrationKind, string>> = {
  calibration: "calibrated",
  cleaning: "cleaned",
  replacement: "changed",
};

/** "pH, ORP calibrated", "8 probes calibrated". */
function probesWords(names: readonly string[], what: string): string {
  const all = [...new Set(names)];
  return `${all.length > NAMED ? `${names.length} probes` : all.join(", ")} ${what}`;
}

/**
 * Calibrations recorded, and when the next one of each probe is due; one that is overdue goes on until it is done. A round is one line a system
 * and a day: what else is in the day would be lost among its probes.
 */
export function calibrationItems(
  at: SystemSetUp,
  calibrations: ReadonlyMap<number, readonly Calibration[]>,
  month: Month,
): CalendarItem[] {
  const visits = at.streams.filter(isProbe).flatMap((stream) => {
    const own = calibrations.get(stream.id) ?? [];
    const name = labelOf(stream.quantity).label;
    const done = own
      .filter((row) => !row.voided && touches(month, row.at, null, false))
      .map((row) => ({ id: row.id, name, what: DONE[row.kind], stand: "done" as const, from: row.at }));
    const due = dueAt(stream.quantity, own);
    const late = due !== null && due <= month.now;
    if (due === null || !touches(month, due, null, late)) return done;
    const stand = late ? ("overdue" as const) : ("due" as const);
    return [...done, { id: `due/${stream.id}`, name, what: `calibration ${stand}`, stand, from: due }];
  });
  const rounds = new Map<string, typeof visits>();
  for (const visit of visits) {
    const key = `${siteDate(visit.from, at.site.zone)} ${visit.what}`;
    rounds.set(key, [...(rounds.get(key) ?? []), visit]);
  }
  return [...rounds.values()].map((round) => {
    const [first] = round.toSorted((a, b) => a.from - b.from) as [(typeof round)[number]];
    const { id, what, stand, from } = first;
    const says = probesWords(
      round.map(({ name }) => name),
      what,
    );
    return itemOf(at, {
      kind: "calibration",
      href: "/probes",
      id,
      says,
      stand,
      from,
      open: stand === "overdue",
    });
  });
}

/** Work that people declare because it explains water for hours or days; what is done every day would bury it. */
export const WORK_KINDS: readonly LogKindId[] = [
  "treatment",
  "out-of-service",
  "work-in-water",
  "outage",
  "lamp-change",
  "set-point",
];

/** Declared work: from when it began to when it ended, or is expected to. */
export function workItems(index: IndexedSetUp, entries: readonly LogEntry[], month: Month): CalendarItem[] {
  return entries.map(inForce).flatMap((entry) => {
    const to = entry.until ?? (entry.open ? entry.expected : null);
    const open = entry.open && to === null;
    if (!touches(month, entry.at, to, open)) return [];
    const isLate = entry.open && to !== null && to <= month.now;
    const stand = isLate ? "overdue" : entry.open ? "going on" : entry.at > month.now ? "planned" : "done";
    const { label } = LOG_KINDS[entry.kind as LogKindId];
    return entry.systems.flatMap((id) => {
      const at = index.byId.get(id);
      return at
        ? [
            itemOf(at, {
              id: `${entry.root}/${at.system.code}`,
              kind: "work",
              says: `${label}: ${entry.text}`,
              stand,
              from: entry.at,
              to,
              open,
              href: `/logbook?system=${encodeURIComponent(at.system.code)}`,
            }),
          ]
        : [];
    });
  });
}
