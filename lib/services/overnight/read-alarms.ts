import type { AlarmsView, AlarmView } from "#contract/answers.ts";
import type { AlarmsQuery } from "#contract/api.ts";
import { asksFor } from "#core/alarms/alarm.ts";
import { levelOf } from "#core/alarms/finding.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Alarm } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { type IndexedSetUp, lookUp, systemOf } from "../set-up.ts";
import { findingView } from "../systems/finding-view.ts";
import { headSite, MOST_FINDINGS } from "../systems/read-systems.ts";
import { isRunning } from "../systems/system-state.ts";
import { respondedOf } from "./responses.ts";

const UNANSWERED_FIRST = { UNACK: 0, RTN_UNACK: 1, ACK: 2, NORMAL: 3 } as const;

function order(a: AlarmView, b: AlarmView): number {
  return (
    UNANSWERED_FIRST[a.state] - UNANSWERED_FIRST[b.state] ||
    levelOf(b.severity) - levelOf(a.severity) ||
    b.raised - a.raised
  );
}

function alarmView(
  alarm: Alarm,
  finding: AlarmView["finding"],
  hasResponse: boolean,
  index: IndexedSetUp,
): AlarmView | undefined {
  const at = index.byId.get(alarm.system);
  if (!at) return undefined;
  return {
    id: alarm.id,
    state: alarm.state,
    severity: alarm.severity,
    system: at.system.code,
    systemName: at.system.name,
    point: index.streams.get(alarm.stream)?.pointCode ?? "",
    quantity: alarm.quantity,
    quantityLabel: labelOf(alarm.quantity).label,
    raised: alarm.raised,
    cleared: alarm.cleared,
    acknowledged: alarm.acknowledged,
    acknowledgedBy: alarm.acknowledgedBy,
    asks: asksFor(alarm, hasResponse),
    finding,
  };
}

/** Alarms with their findings: unanswered first, most serious first, newest first. Active ones unless `active` is "false". */
export async function readAlarms(deps: ReadDeps, query: AlarmsQuery): Promise<AlarmsView> {
  const now = deps.clock();
  const { index, system } = await lookUp(deps.setUp, (found) => ({
    index: found,
    system: query.system === undefined ? undefined : systemOf(found, query.system).system.id,
  }));
  const where = {
    limit: MOST_FINDINGS,
    ...(system === undefined ? {} : { system }),
    ...(query.from === undefined ? {} : { from: query.from }),
    ...(query.to === undefined ? {} : { to: query.to }),
  };
  const rows = await deps.store.readAlarms(query.active === "false" ? where : { ...where, active: true });
  // Nobody has to answer for a system that was closed; what rang there is still read when it is asked for.
  const closed = new Set(
    index.systems.filter((at) => !isRunning(at, now)).map(({ system: each }) => each.id),
  );
  const alarms = query.active === "false" ? rows : rows.filter((row) => !closed.has(row.system));
  const ofSystem = { limit: MOST_FINDINGS, ...(system === undefined ? {} : { system }) };
  // A finding's event times come before its alarm's receive times, however late it was found: all of them are looked through.
  const findings = alarms.length === 0 ? [] : await deps.store.readFindings(ofSystem);
  const streams = [...new Set(alarms.map((row) => row.stream))];
  const currents = new Map((await deps.store.readCurrent(streams)).map((row) => [row.stream, row]));
  const responded = await respondedOf(deps.store, alarms);
  const byId = new Map(findings.map((row) => [row.id, row]));
  const views = alarms.flatMap((alarm) => {
    const finding = byId.get(alarm.finding);
    return (
      alarmView(
        alarm,
        (finding && findingView(finding, alarm, index, now, currents.get(alarm.stream))) ?? null,
        responded.has(alarm.id),
        index,
      ) ?? []
    );
  });
  return { now, zone: headSite(index).zone, alarms: views.sort(order) };
}
