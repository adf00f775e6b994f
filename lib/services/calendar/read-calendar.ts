import type { CalendarItem, CalendarQuery, CalendarView } from "#contract/calendar.ts";
import type { LogEntry } from "#core/logbook/entry.ts";
import type { Calibration } from "#core/probes/calibration.ts";
import type { Instant } from "#core/time/instant.ts";
import { monthAfter, siteDate, siteMonth } from "#core/time/site-month.ts";
import type { ReadDeps } from "../deps.ts";
import { isProbe } from "../probes/probe-rows.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { headSite } from "../systems/read-systems.ts";
import { isRunning } from "../systems/system-state.ts";
import type { Month } from "./item.ts";
import { breedingItems, stayItems, watchItems } from "./of-animals.ts";
import { calibrationItems, lightItems, planItems, WORK_KINDS, workItems } from "./of-life-support.ts";

const MOST_ENTRIES = 1_000;

async function calibrationsOf(deps: ReadDeps, systems: readonly SystemSetUp[]) {
  const ids = systems.flatMap((at) => at.streams.filter(isProbe).map(({ id }) => id));
  const byStream = new Map<number, Calibration[]>();
  if (ids.length === 0) return byStream;
  for (const row of await deps.store.readCalibrations(ids))
    byStream.set(row.stream, [...(byStream.get(row.stream) ?? []), row]);
  return byStream;
}

/** Declared work of the month, and what still goes on from before it, each once. */
async function workOf(
  deps: ReadDeps,
  systems: readonly SystemSetUp[],
  month: { readonly from: Instant; readonly to: Instant },
): Promise<readonly LogEntry[]> {
  const asked = {
    kinds: WORK_KINDS,
    systems: systems.map((at) => at.system.id),
    limit: MOST_ENTRIES,
  };
  const [within, open] = await Promise.all([
    deps.store.readLog({ ...asked, from: month.from, to: month.to }),
    deps.store.readLog({ ...asked, open: true, to: month.to }),
  ]);
  return [...new Map([...open, ...within].map((entry) => [entry.root, entry])).values()];
}

const byBeginning = (a: CalendarItem, b: CalendarItem) =>
  (a.from ?? Number.NEGATIVE_INFINITY) - (b.from ?? Number.NEGATIVE_INFINITY) ||
  a.systemName.localeCompare(b.systemName, "en") ||
  a.says.localeCompare(b.says, "en");

/**
 * What is dated in a month for one system or for all that run: windows of breeding watches, what was seen and born, stages and moves, adopted
 * set-points, light schedules, calibrations done and due, declared work. Days are the head site's; each item has the dates of its own site.
 * Throws AppError "not_found".
 */
export async function readCalendar(deps: ReadDeps, query: CalendarQuery): Promise<CalendarView> {
  const now = deps.clock();
  const { index, one } = await lookUp(deps.setUp, (found) => ({
    index: found,
    one: query.system === undefined ? null : systemOf(found, query.system),
  }));
  const zone = one?.site.zone ?? headSite(index).zone;
  const running = index.systems.filter((at) => isRunning(at, now));
  const systems = one === null ? running : [one];
  const month = query.month ?? siteDate(now, zone).slice(0, 7);
  const days = siteMonth(month, zone);
  // Sites in other zones begin and end the month at other instants: what falls in it for any of them is listed.
  const spans = systems.map((at) => siteMonth(month, at.site.zone));
  const edges = [days, ...spans].flatMap((each) => [each[0]?.start ?? now, each.at(-1)?.end ?? now]);
  const within: Month = { from: Math.min(...edges), to: Math.max(...edges), now };
  const [habitat, calibrations, work] = await Promise.all([
    deps.store.readHabitat(),
    calibrationsOf(deps, systems),
    systems.length === 0 ? [] : workOf(deps, systems, within),
  ]);
  const told = new Set(systems.map((at) => at.system.code));
  const items = [
    ...systems.flatMap((at) => [
      ...watchItems(at, habitat, within),
      ...breedingItems(at, habitat, within),
      ...stayItems(at, index.setUp.residents, within),
      ...planItems(at, habitat, within),
      ...lightItems(at, habitat, within),
      ...calibrationItems(at, calibrations, within),
    ]),
    ...workItems(index, work, within),
  ];
  const [first, last] = [days[0]?.date ?? "", days.at(-1)?.date ?? ""];
  // By date: an item of a site in another zone may lie in the month by the instants and not by its own day.
  const isDated = ({ fromDate, toDate, open }: CalendarItem) =>
    (fromDate === null || fromDate <= last) && (open || (toDate ?? fromDate ?? first) >= first);
  return {
    now,
    today: siteDate(now, zone),
    zone,
    month,
    before: monthAfter(month, -1),
    after: monthAfter(month, 1),
    system: one?.system.code ?? null,
    name: one?.system.name ?? null,
    days: days.map(({ date, start, hours, weekday }) => ({ date, start, hours, weekday })),
    items: items.filter((item) => told.has(item.system) && isDated(item)).sort(byBeginning),
    systems: running
      .map((at) => ({ system: at.system.code, name: at.system.name }))
      .sort((a, b) => a.name.localeCompare(b.name, "en")),
  };
}
