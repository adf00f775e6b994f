import { type ChangeAnswer, changeBandRequest } from "#contract/set-up-forms.ts";
import { faultsOf, type TargetBand } from "#core/habitat/index.ts";
import type { Instant } from "#core/time/instant.ts";
import { quantity } from "#core/units/index.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { type FieldIssue, invalid, shorten } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";

const AHEAD = 366 * 86_400_000;
const OLDEST = 20 * AHEAD;

/** A band that a change ended, with the end it had before. */
export interface EndedBand {
  readonly id: string;
  readonly validTo: Instant | null;
}

function issuesOf(at: SystemSetUp, band: TargetBand, now: Instant): FieldIssue[] {
  const issues: FieldIssue[] = [];
  const spec = quantity(band.quantity);
  if (spec?.kind !== "number")
    issues.push({
      field: "quantity",
      value: shorten(band.quantity),
      says: spec ? "is a state: states have words, not bands" : "is not a quantity of the registry",
      remedy: "use the id of a measured number, such as temperature",
    });
  if (band.point !== null && !at.points.some((point) => point.code === band.point))
    issues.push({
      field: "point",
      value: shorten(band.point),
      says: `is not a point of ${at.system.code}`,
      remedy: `use one of ${at.points.map((point) => point.code).join(", ")}, or leave it out`,
    });
  for (const [month, edges] of band.months.entries()) {
    for (const says of faultsOf(edges))
      issues.push({
        field: `months.${month}`,
        value: null,
        says,
        remedy: "put action limits outside the band edges, and urgent limits beyond those",
      });
    if (Object.values(edges).every((edge) => edge === null))
      issues.push({
        field: `months.${month}`,
        value: null,
        says: "has no edges",
        remedy: "give at least one",
      });
  }
  if (band.validFrom > now + AHEAD || band.validFrom < now - OLDEST)
    issues.push({
      field: "validFrom",
      value: new Date(band.validFrom).toISOString(),
      says: "is more than a year ahead or 20 years ago",
      remedy: "check the year",
    });
  return issues;
}

/** Bands of the same quantity and point that the new one takes over from: ended where it begins, at the earliest where they began. */
export function endedBy(bands: readonly TargetBand[], band: TargetBand): TargetBand[] {
  return bands
    .filter(
      (old) =>
        old.quantity === band.quantity &&
        old.point === band.point &&
        (old.validTo === null || old.validTo > Math.max(band.validFrom, old.validFrom)),
    )
    .map((old) => ({ ...old, validTo: Math.max(band.validFrom, old.validFrom) }));
}

/**
 * Sets a target band: a new version with reason and source; the ones before it end and stay readable, and the water is judged again from
 * where it begins. Throws AppError "forbidden", "not_found" or "invalid" with every fault of the edges named.
 */
export async function changeBand(
  deps: WriteDeps,
  actor: Actor,
  system: string,
  body: unknown,
): Promise<ChangeAnswer> {
  demandSomewhere(actor, "change-band");
  const request = parse(changeBandRequest, body);
  const at = await lookUp(deps.setUp, (index) => systemOf(index, system));
  demandAt(actor, "change-band", at);
  const now = deps.clock();
  const band: TargetBand = {
    id: deps.newId(now),
    system: at.system.id,
    quantity: request.quantity,
    point: request.point ?? null,
    months: request.months,
    validFrom: request.validFrom ?? now,
    validTo: null,
    recordedAt: now,
    setBy: actor.name,
    reason: request.reason,
    source: request.source,
  };
  const issues = issuesOf(at, band, now);
  if (issues.length > 0) throw invalid(issues);
  const ended = endedBy(at.bands, band);
  const before: EndedBand[] = ended.map(({ id }) => ({
    id,
    validTo: at.bands.find((old) => old.id === id)?.validTo ?? null,
  }));
  const subject = `band:${band.id}`;
  const written = await deps.store.writeSetUp(
    { bands: [...ended, band] },
    [{ system: at.system.id, from: Math.min(band.validFrom, now) }],
    now,
    audited(actor, now, "change-band", subject, { band, ended: before }),
  );
  return answerOf(written, subject, true, now);
}

/** What every change of set-up is answered with. */
export function answerOf(
  written: { readonly received: Instant | null; readonly audit: number | null },
  subject: string,
  undoable: boolean,
  now: Instant,
): ChangeAnswer {
  return { change: written.audit ?? 0, undoable, subject, received: written.received ?? now };
}
