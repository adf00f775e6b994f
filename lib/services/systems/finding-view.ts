import type { FindingView } from "#contract/views.ts";
import { levelOf } from "#core/alarms/finding.ts";
import { wording } from "#core/alarms/wording.ts";
import type { Setting } from "#core/alarms/wording-parts.ts";
import { isGood } from "#core/quality/flag.ts";
import type { Instant } from "#core/time/instant.ts";
import { quantity } from "#core/units/index.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Alarm, Current, Finding } from "#store/port.ts";
import type { IndexedSetUp } from "../set-up.ts";

/** A finding as people see it; undefined where its system or stream is no longer set up. */
export function findingView(
  finding: Finding,
  alarm: Alarm | undefined,
  index: IndexedSetUp,
  now: Instant,
  /** The newest verdict of its stream; only one that is good and not overdue is shown as the present value. */
  current?: Current,
): FindingView | undefined {
  const at = index.byId.get(finding.system);
  const stream = index.streams.get(finding.stream);
  const spec = quantity(finding.quantity);
  if (!at || !stream || !spec) return undefined;
  const { label, unitLabel, decimals } = labelOf(finding.quantity);
  return {
    id: finding.id,
    system: at.system.code,
    systemName: at.system.name,
    point: stream.pointCode,
    quantity: finding.quantity,
    quantityLabel: label,
    unitLabel,
    decimals,
    kind: finding.kind,
    rule: finding.rule,
    severity: finding.severity,
    began: finding.began,
    raised: finding.raised,
    ended: finding.ended,
    late: finding.late,
    says: wording(finding, {
      spec,
      point: stream.pointCode,
      zone: at.site.zone,
      now,
      ...readingNow(current, now),
    }),
    evidence: { ...finding.evidence },
    alarm: alarm
      ? {
          id: alarm.id,
          state: alarm.state,
          severity: alarm.severity,
          raised: alarm.raised,
          cleared: alarm.cleared,
          acknowledged: alarm.acknowledged,
          acknowledgedBy: alarm.acknowledgedBy,
        }
      : null,
  };
}

/** The believable value now, or the last one with its time. */
function readingNow(current: Current | undefined, now: Instant): Pick<Setting, "current" | "last"> {
  if (!current) return {};
  if (!isGood(current.flag)) return { last: null };
  const isSilent = current.silentAt !== null && now >= current.silentAt;
  return isSilent ? { last: { value: current.value, at: current.at } } : { current: current.value };
}

/** The newest alarm of each finding. */
export function alarmsByFinding(alarms: readonly Alarm[]): ReadonlyMap<string, Alarm> {
  const newest = new Map<string, Alarm>();
  for (const alarm of alarms) {
    const known = newest.get(alarm.finding);
    if (!known || alarm.raised > known.raised) newest.set(alarm.finding, alarm);
  }
  return newest;
}

/** Most serious first, then furthest out of band, then the newest. */
export function byGravity(a: FindingView, b: FindingView): number {
  const deviation = (view: FindingView) => Math.abs(Number(view.evidence.deviation ?? 0));
  return levelOf(b.severity) - levelOf(a.severity) || deviation(b) - deviation(a) || b.began - a.began;
}
