import type { LogEntryView } from "#contract/log.ts";
import { inForce, type LogEntry } from "#core/logbook/entry.ts";
import { logKind } from "#core/logbook/kinds.ts";
import { muteWords } from "#core/logbook/mute-words.ts";
import { overdue, quietRules, quietUntil } from "#core/logbook/quiet.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { IndexedSetUp } from "../set-up.ts";

const quietSays = (version: Parameters<typeof quietRules>[0]): string =>
  `Alarms muted: ${quietRules(version).map(muteWords).join(", ")}. Level, leaks and the action limits of oxygen and temperature are never muted.`;

/** A log entry as people see it; undefined where none of its systems is set up, or may be seen. */
export function logEntryView(entry: LogEntry, index: IndexedSetUp, now: Instant): LogEntryView | undefined {
  const version = inForce(entry);
  const first = entry.versions[0] ?? version;
  const named = (ids: readonly string[]) =>
    ids.flatMap((id) => {
      const at = index.byId.get(id);
      return at ? [{ system: at.system.code, name: at.system.name }] : [];
    });
  const systems = named(version.systems);
  if (systems.length === 0) return undefined;
  const closing = entry.versions.findLast((row) => row.change === "close");
  const until = quietUntil(version);
  const isQuiet = until !== null && until > now && quietRules(version).length > 0;
  return {
    id: entry.root,
    clientId: first.clientId,
    kind: version.kind as LogEntryView["kind"],
    kindLabel: logKind(version.kind)?.label ?? version.kind,
    systems,
    point: version.point,
    quantity: version.quantity,
    quantityLabel: version.quantity === null ? null : labelOf(version.quantity).label,
    at: version.at,
    until: version.until,
    open: version.open,
    expected: version.expected,
    amount: version.amount,
    unit: version.unit,
    item: version.item,
    animals: [...version.animals],
    text: version.text,
    alarm: version.alarm,
    by: first.by,
    entered: first.entered,
    late: first.entered - version.at > DAY,
    closedBy: closing?.by ?? null,
    closingText: closing && closing.text !== first.text ? closing.text : null,
    quiet: isQuiet ? { until, says: quietSays(version) } : null,
    overdue: overdue(version, now) ?? null,
    reason: entry.versions.findLast((row) => row.change === "correct")?.reason ?? null,
    earlier: entry.versions
      .slice(0, -1)
      .toReversed()
      .map((row) => ({
        id: row.id,
        by: row.by,
        entered: row.entered,
        systems: named(row.systems),
        point: row.point,
        quantityLabel: row.quantity === null ? null : labelOf(row.quantity).label,
        at: row.at,
        until: row.until,
        amount: row.amount,
        unit: row.unit,
        item: row.item,
        animals: [...row.animals],
        text: row.text,
        reason: row.reason,
      })),
  };
}
