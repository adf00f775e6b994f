/** What every change of residents, profiles and compromises has in common: the log entry, the bands that follow, one commit. */

import type { HabitatAnswer } from "#contract/habitat.ts";
import { composite, coveredQuantities, livingAt, type Stay } from "#core/habitat/index.ts";
import type { LogVersion } from "#core/logbook/entry.ts";
import type { LogKindId } from "#core/logbook/kinds.ts";
import { followResidents, isForAnimals, type Signature, YEAR_ROUND } from "#core/set-up/follow-residents.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Habitat, HabitatChange, Resident, TargetBand } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { invalid, notFound } from "../errors.ts";
import { audited, demandAt } from "../permission.ts";
import type { SystemSetUp } from "../set-up.ts";

const AHEAD = 366 * 86_400_000;
const OLDEST = 30 * AHEAD;

/**
 * The row of an id among those of the habitat, and where it stands, for an actor who may change it there. Throws AppError "not_found" naming `what`,
 * or "forbidden".
 */
export async function changeable<Row extends { readonly id: string; readonly system: string }>(
  deps: WriteDeps,
  actor: Actor,
  what: string,
  rows: readonly Row[],
  id: string,
): Promise<{ readonly row: Row; readonly at: SystemSetUp }> {
  const row = rows.find((each) => each.id === id);
  const at = row && (await deps.setUp.read()).byId.get(row.system);
  if (!row || !at) throw notFound(what, id, "GET /api/v1/systems/{system}/residents lists them.");
  demandAt(actor, "change-habitat", at);
  return { row, at };
}

/** The moment of a change: as typed, else now. Throws AppError "invalid" where it is more than a year ahead or thirty years ago. */
export function momentOf(field: string, typed: Instant | undefined, now: Instant): Instant {
  const at = typed ?? now;
  if (at >= now - OLDEST && at <= now + AHEAD) return at;
  throw invalid([
    {
      field,
      value: new Date(at).toISOString(),
      says: "is more than a year ahead or 30 years ago",
      remedy: "check the year",
    },
  ]);
}

export const nameOfStay = (stay: Pick<Resident, "name" | "count" | "speciesName" | "stage">): string =>
  stay.name === null
    ? `${stay.count} ${stay.speciesName} (${stay.stage})`
    : `${stay.name}, ${stay.speciesName} (${stay.stage})`;

interface Entry {
  readonly kind: LogKindId;
  readonly systems: readonly string[];
  readonly at: Instant;
  readonly text: string;
  readonly animals: readonly string[];
  readonly amount?: number;
}
export function logOf(deps: WriteDeps, actor: Actor, now: Instant, entry: Entry): LogVersion {
  const id = deps.newId(now);
  return {
    id,
    root: id,
    clientId: `habitat-${id}`,
    change: "first",
    supersedes: null,
    reason: null,
    kind: entry.kind,
    systems: entry.systems,
    point: null,
    quantity: null,
    at: entry.at,
    until: null,
    open: false,
    expected: null,
    amount: entry.amount ?? null,
    unit: null,
    item: null,
    animals: entry.animals,
    text: entry.text,
    alarm: null,
    by: actor.name,
    byId: actor.id,
    entered: now,
  };
}

export interface Moving {
  readonly at: SystemSetUp;
  /** Bands follow from here on. */
  readonly from: Instant;
  /** Every stay of the system as it will be. */
  readonly stays: readonly Stay[];
}
/** The signatures of a person who confirms with the change itself: one a quantity that anybody there is known to ask for. */
function signaturesOf(moving: Moving, habitat: Habitat, actor: Actor, reason: string): Signature[] {
  const here = livingAt(moving.stays, moving.at.system.id, moving.from);
  return coveredQuantities(here, habitat.profiles)
    .filter((quantity) =>
      // A band somebody typed is taken over by its own decision, not beside a move.
      moving.at.bands.every(
        (band) =>
          band.quantity !== quantity ||
          !isForAnimals(moving.at, band) ||
          (band.origin !== undefined && band.origin !== "person") ||
          (band.validTo !== null && band.validTo <= moving.from),
      ),
    )
    .filter(
      (quantity) =>
        composite(quantity, here, habitat.profiles, habitat.compromises, moving.from).known.length > 0,
    )
    .map((quantity) => ({ quantity, months: YEAR_ROUND, from: moving.from, by: actor.name, reason }));
}

/** Bands that follow in these systems, and what is to be judged again. */
export function bandsThatFollow(
  deps: WriteDeps,
  actor: Actor,
  habitat: Habitat,
  moved: readonly Moving[],
  options: { readonly now: Instant; readonly reason: string; readonly confirm: boolean },
): Required<Pick<HabitatChange, "bandBasis">> & { readonly bands: readonly TargetBand[] } {
  const { now, reason, confirm } = options;
  const all = moved.map((moving) => {
    const base = {
      at: moving.at,
      stays: moving.stays,
      profiles: habitat.profiles,
      compromises: habitat.compromises,
      from: moving.from,
      now,
      newId: deps.newId,
      by: actor.name,
      reason,
    };
    if (!confirm) return followResidents({ ...base, signature: null });
    const signed = signaturesOf(moving, habitat, actor, reason);
    const parts = signed.map((signature) => followResidents({ ...base, signature }, signature.quantity));
    const rest = followResidents({ ...base, signature: null });
    const done = new Set(signed.map((each) => each.quantity));
    const others = rest.bands.filter((band) => !done.has(band.quantity));
    const ids = new Set(others.map((band) => band.id));
    return {
      bands: [...parts.flatMap((part) => part.bands), ...others],
      bandBasis: [
        ...parts.flatMap((part) => part.bandBasis),
        ...rest.bandBasis.filter((row) => ids.has(row.band)),
      ],
    };
  });
  return { bands: all.flatMap((each) => each.bands), bandBasis: all.flatMap((each) => each.bandBasis) };
}

/** Writes a change in one commit and answers with its number. */
export async function writeChange(
  deps: WriteDeps,
  actor: Actor,
  now: Instant,
  verb: string,
  subject: string,
  id: string,
  change: HabitatChange,
  rejudge: readonly { readonly system: string; readonly from: Instant }[],
): Promise<HabitatAnswer> {
  const { bandBasis: _frozen, ...record } = change;
  const written = await deps.store.writeHabitat(
    change,
    rejudge,
    now,
    audited(actor, now, verb, subject, record),
  );
  return { id, change: written.audit, received: written.received };
}
