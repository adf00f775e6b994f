import { and, asc, desc, eq, gte, isNull, lt, ne, or } from "drizzle-orm";
import type { FindingKind } from "#core/alarms/finding.ts";
import { isFindingKind } from "#core/alarms/kinds.ts";
import { isQuantityId, type QuantityId } from "#core/units/quantity.ts";
import type { Database } from "../kits/postgres.ts";
import type { Alarm, AlarmTransition, Finding, Store } from "../port.ts";
import type { Tables } from "../tables/tables.ts";

/** Findings in force that touch [from, to), newest first. */
export async function readFindings(
  db: Database,
  { finding }: Tables,
  query: Parameters<Store["readFindings"]>[0],
): Promise<Finding[]> {
  const rows = await db
    .select()
    .from(finding)
    .where(
      and(
        isNull(finding.supersededAt),
        query.open === true ? isNull(finding.ended) : undefined,
        query.late === true ? eq(finding.late, true) : undefined,
        query.system === undefined ? undefined : eq(finding.system, query.system),
        query.to === undefined ? undefined : lt(finding.began, query.to),
        query.from === undefined ? undefined : or(isNull(finding.ended), gte(finding.ended, query.from)),
      ),
    )
    .orderBy(desc(finding.began), asc(finding.id))
    .limit(query.limit);
  return rows
    .filter(isTold)
    .map(({ recordedAt: _recorded, supersededAt: _superseded, evidence, ...row }) => ({
      ...row,
      evidence: JSON.parse(evidence) as Finding["evidence"],
    }));
}

/**
 * A quantity that left the registry has no unit and no name any more, and a kind that this version does not raise has no sentence: nothing can
 * be said of such a finding, and nobody could answer its alarm.
 */
export const isTold = <R extends { readonly quantity: string; readonly kind: string }>(
  row: R,
): row is R & { quantity: QuantityId; kind: FindingKind } =>
  isQuantityId(row.quantity) && isFindingKind(row.kind);

/** Alarms that touch [from, to), newest first; active = not NORMAL. */
export async function readAlarms(
  db: Database,
  { alarm }: Tables,
  query: Parameters<Store["readAlarms"]>[0],
): Promise<Alarm[]> {
  const rows = await db
    .select()
    .from(alarm)
    .where(
      and(
        query.active === true ? ne(alarm.state, "NORMAL") : undefined,
        query.system === undefined ? undefined : eq(alarm.system, query.system),
        query.to === undefined ? undefined : lt(alarm.raised, query.to),
        query.from === undefined ? undefined : or(isNull(alarm.cleared), gte(alarm.cleared, query.from)),
      ),
    )
    .orderBy(desc(alarm.raised), asc(alarm.id))
    .limit(query.limit);
  return rows.filter(isTold);
}

/** An alarm's history, oldest first. */
export async function readTransitions(
  db: Database,
  { alarmTransition }: Tables,
  alarm: string,
): Promise<AlarmTransition[]> {
  const rows = await db
    .select()
    .from(alarmTransition)
    .where(eq(alarmTransition.alarm, alarm))
    .orderBy(asc(alarmTransition.number));
  return rows.map(({ number: _number, ...row }) => row);
}
