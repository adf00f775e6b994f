import type { LogVersion } from "#core/logbook/entry.ts";
import { logKind } from "#core/logbook/kinds.ts";
import { DAY, type Instant, MINUTE } from "#core/time/instant.ts";
import { isQuantityId } from "#core/units/index.ts";
import type { FieldIssue } from "../errors.ts";
import { shorten } from "../errors.ts";
import type { SystemSetUp } from "../set-up.ts";

/** A phone's clock may run a little ahead. */
const AHEAD = 2 * MINUTE;
const OLDEST = 20 * 366 * DAY;

const moment = (at: Instant) => new Date(at).toISOString();

function timeIssues(version: LogVersion, now: Instant): FieldIssue[] {
  const { at, until, expected } = version;
  const issues: FieldIssue[] = [];
  const add = (field: string, value: Instant, says: string, remedy: string) =>
    issues.push({ field, value: moment(value), says, remedy });
  if (at > now + AHEAD) add("at", at, "is in the future", "say when it began; check the clock of the device");
  if (at < now - OLDEST) add("at", at, "is more than 20 years ago", "check the year");
  if (until !== null && until < at) add("until", until, "is before its start", "say when it ended");
  if (until !== null && until > now + AHEAD)
    add("until", until, "is in the future", "send open: true and close it when it is over");
  if (expected !== null && expected <= at)
    add("expected", expected, "is before its start", "say when it will be back");
  return issues;
}

/** Everything wrong with a version of an entry, each with field and remedy. `systems`: those it names. */
export function logIssues(version: LogVersion, systems: readonly SystemSetUp[], now: Instant): FieldIssue[] {
  const issues = timeIssues(version, now);
  const add = (field: string, value: string | null, says: string, remedy: string) =>
    issues.push({ field, value, says, remedy });
  const kind = logKind(version.kind);
  if (version.open && version.until !== null)
    add("open", "true", "cannot be given together with `until`", "leave one of them out");
  if (version.open && kind && !kind.lasts)
    add("open", "true", `an entry of the kind “${kind.label}” has no duration`, "leave it out");
  if (version.amount !== null && !Number.isFinite(version.amount))
    add("amount", String(version.amount), "is not a number", "give a number");
  if (version.amount !== null && version.unit === null)
    add("unit", null, "an amount needs its unit", "give the unit, such as kg");
  if (version.quantity !== null && !isQuantityId(version.quantity))
    add(
      "quantity",
      shorten(version.quantity),
      "is not a quantity of the registry",
      "use an id such as temperature",
    );
  if (
    version.point !== null &&
    !systems.some((at) => at.points.some((point) => point.code === version.point))
  )
    add(
      "point",
      shorten(version.point),
      "is not a point of these systems",
      `use one of ${systems.flatMap((at) => at.points.map((point) => point.code)).join(", ")}`,
    );
  if (new Set(version.systems).size !== version.systems.length)
    add("systems", null, "lists a system twice", "list each once");
  return issues;
}
