/**
 * The bands of a system that follow its residents, written again from an instant on: one version from each change of who lives there, of a
 * compromise, or of a person's confirmation, to the next. What a person typed is left alone and shows beside what the residents ask for.
 */
import {
  type BandEdges,
  type BandMonth,
  type BandOrigin,
  type Composite,
  type Compromise,
  changesFrom,
  composite,
  coveredQuantities,
  DEFAULTED_QUANTITIES,
  keepTo,
  livingAt,
  NO_EDGES,
  type Profile,
  STARTING_BAND_SOURCE,
  type Stay,
  sameMonths,
  startingBand,
  type TargetBand,
} from "../habitat/index.ts";
import { inForce, isInForce, turnsOf } from "../time/in-force.ts";
import type { Instant } from "../time/instant.ts";
import { mainPoint, pointRole } from "./point-role.ts";
import type { SystemSetUp } from "./system-set-up.ts";
import { systemType } from "./system-type.ts";

export interface Signature {
  readonly quantity: string;
  /** Months (1 to 12) whose limits are confirmed. */
  readonly months: readonly number[];
  readonly from: Instant;
  readonly by: string;
  readonly reason: string;
}
export interface Following {
  readonly at: SystemSetUp;
  /** Every stay as it is after the change, of this system. */
  readonly stays: readonly Stay[];
  readonly profiles: readonly Profile[];
  readonly compromises: readonly Compromise[];
  readonly from: Instant;
  readonly now: Instant;
  readonly newId: (now: Instant) => string;
  readonly by: string;
  readonly reason: string;
  /** Bands a person typed are ended for this quantity: it follows the residents from now on. */
  readonly signature: Signature | null;
  /** A version begins at `from` also where its numbers stay: what they rest on has changed there. */
  readonly startsNewVersion?: boolean;
}
/** What a system asks for at an instant. */
export interface ResidentsNeeds {
  readonly origin: BandOrigin;
  readonly composite: Composite;
  readonly months: readonly (BandEdges | null)[];
}

export const YEAR_ROUND: readonly number[] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
const isTyped = (band: TargetBand): boolean => band.origin === undefined || band.origin === "person";

const startingBandIn = ({ system }: SystemSetUp, quantity: string) =>
  systemType(system.type).keepsAnimals ? startingBand(system.startingBands, quantity) : null;

/** What the residents of an instant ask for; the system's starting band where none of their profiles covers the quantity; null where neither does. */
export function askedAt(
  { at, stays, profiles, compromises }: Pick<Following, "at" | "stays" | "profiles" | "compromises">,
  quantity: string,
  instant: Instant,
): ResidentsNeeds | null {
  const made = composite(quantity, livingAt(stays, at.system.id, instant), profiles, compromises, instant);
  if (made.known.length > 0)
    return { origin: "residents", composite: made, months: made.months.map((month) => month.edges) };
  const starting = startingBandIn(at, quantity);
  return starting && { origin: "type", composite: made, months: YEAR_ROUND.map(() => starting.edges) };
}

/** Whether a band is of the system's own water: not of what fills it up, nor of a loop or the air beside it. */
export const isForAnimals = (at: SystemSetUp, band: TargetBand): boolean => {
  const point = at.points.find(({ code }) => code === band.point);
  return point === undefined || pointRole(point.role).water === "system";
};

/** Where a followed band holds: where the one before did, else in the exhibit, else in the whole system. */
function slotOf(at: SystemSetUp, quantity: string): string | null {
  const followed = at.bands.filter((band) => band.quantity === quantity && !isTyped(band));
  const newest = followed.toSorted((a, b) => b.validFrom - a.validFrom || b.recordedAt - a.recordedAt)[0];
  if (newest) return newest.point;
  const typed = at.bands.find((band) => band.quantity === quantity && isForAnimals(at, band));
  if (typed) return typed.point;
  return mainPoint(at.points)?.code ?? null;
}

/** Quantities that follow the residents at or after an instant, or would if they were set up. */
function quantitiesOf(following: Following): string[] {
  const { at, stays, profiles, from } = following;
  const here = stays.filter((stay) => stay.to === null || stay.to > from);
  const measured = new Set(at.streams.map((stream) => stream.quantity));
  const followed = at.bands
    .filter((band) => !isTyped(band) && (band.validTo === null || band.validTo > from))
    .map((band) => band.quantity);
  const starting = DEFAULTED_QUANTITIES.filter(
    (quantity) => measured.has(quantity) && startingBandIn(at, quantity) !== null,
  );
  return [...new Set([...coveredQuantities(here, profiles), ...followed, ...starting])].sort();
}

/** Who set which edge of a band, kept as JSON beside it. */
export interface BandBasis {
  readonly band: string;
  readonly basis: string;
}
interface Written {
  readonly bands: readonly TargetBand[];
  readonly bandBasis: readonly BandBasis[];
}

function basisOf(made: Composite, awaits: readonly number[]): string {
  const months = made.months.map(({ compromise, meanwhile: _rings, ...month }) => ({
    ...month,
    compromise: compromise?.id ?? null,
    awaits: awaits.includes(month.month),
  }));
  return JSON.stringify({ known: made.known, unknown: made.unknown, months });
}

/** Nothing to judge and nothing to say. */
const isEmpty = ({ noCommonRange, ...edges }: BandMonth): boolean =>
  noCommonRange === undefined && Object.values(edges).every((edge) => edge === null);

function sourceOf(asked: ResidentsNeeds): string {
  if (asked.origin === "type") return STARTING_BAND_SOURCE;
  const sources = new Set(
    asked.composite.months.flatMap(({ low, high, compromise }) => [
      ...(low ? [low.source] : []),
      ...(high ? [high.source] : []),
      ...(compromise ? [`compromise signed by ${compromise.signedBy}`] : []),
    ]),
  );
  const all = [...sources].join("; ");
  return all.length > 280 ? `${all.slice(0, 277)}...` : all;
}

const monthIn = (months: readonly BandMonth[], i: number): BandMonth | undefined =>
  months.length === 12 ? months[i] : months[0];

/** What a person last agreed to: the months of a conflict were nobody's choice, and what stood before them stands again after it. */
function withoutConflicts(months: readonly BandMonth[], before: readonly BandMonth[]): readonly BandMonth[] {
  if (months.every(({ noCommonRange }) => noCommonRange === undefined)) return months;
  return YEAR_ROUND.map((month) => {
    const own = monthIn(months, month - 1);
    return own && own.noCommonRange === undefined ? own : (monthIn(before, month - 1) ?? NO_EDGES);
  });
}

/** The months that held before an instant, those of a conflict as they were before it began. */
function standingBefore(slot: readonly TargetBand[], from: Instant): readonly BandMonth[] {
  const versions = slot
    .filter(({ validFrom, validTo }) => validFrom < from && (validTo === null || validTo > validFrom))
    .sort((a, b) => a.validFrom - b.validFrom || a.recordedAt - b.recordedAt);
  const last = inForce(slot, from - 1);
  if (!last) return [];
  return versions
    .slice(0, versions.indexOf(last) + 1)
    .reduce<readonly BandMonth[]>((before, { months }) => withoutConflicts(months, before), []);
}

function follow(following: Following, quantity: string): Written {
  const { at, stays, compromises, from, now, newId, by, reason } = following;
  const signature = following.signature?.quantity === quantity ? following.signature : null;
  const point = slotOf(at, quantity);
  const slot = at.bands.filter((band) => band.quantity === quantity && band.point === point);
  const endsTyped = (band: TargetBand) =>
    signature !== null && isTyped(band) && isInForce(band, signature.from);
  const typed = slot.filter((band) => isTyped(band) && !endsTyped(band));
  const own = slot.filter((band) => !isTyped(band));
  const confirmed = own.filter((band) => band.confirmedBy !== undefined && band.validFrom >= from);
  const turns = [
    ...changesFrom(stays, at.system.id, from),
    ...turnsOf(compromises.filter((each) => each.quantity === quantity && each.system === at.system.id)),
    ...confirmed.map((band) => band.validFrom),
    ...turnsOf(typed),
    ...(signature ? [signature.from] : []),
  ];
  const instants = [...new Set(turns)].filter((turn) => turn >= from).sort((a, b) => a - b);

  const before = inForce(slot, from - 1);
  let standing: readonly BandMonth[] = standingBefore(slot, from);
  let confirmedBy = before?.confirmedBy;
  const made: { band: TargetBand; basis: string }[] = [];
  for (const [i, start] of instants.entries()) {
    const byHand = typed.find((band) => isInForce(band, start));
    if (byHand) {
      standing = byHand.months;
      confirmedBy = undefined;
      continue;
    }
    const asked = askedAt(following, quantity, start);
    if (!asked) continue;
    const again = confirmed.find((band) => band.validFrom === start);
    if (again) standing = again.months;
    const isSigning = signature?.from === start;
    const isAgain = again !== undefined && sameMonths(again.months, asked.months);
    const kept = keepTo(
      standing,
      asked.months,
      isSigning ? signature.months : isAgain ? YEAR_ROUND : [],
      asked.composite.months.map(({ meanwhile }) => meanwhile),
    );
    standing = withoutConflicts(kept.months, standing);
    const held =
      kept.awaits.length > 0 ? undefined : isSigning ? signature.by : (again?.confirmedBy ?? confirmedBy);
    confirmedBy = held;
    if (kept.months.every(isEmpty)) continue;
    made.push({
      basis: basisOf(asked.composite, kept.awaits),
      band: {
        id: newId(now),
        system: at.system.id,
        quantity,
        point,
        months: kept.months,
        validFrom: start,
        validTo: instants[i + 1] ?? null,
        recordedAt: now,
        setBy: by,
        reason: isSigning ? signature.reason : reason,
        source: sourceOf(asked),
        origin: asked.origin,
        ...(held !== undefined && { confirmedBy: held }),
      },
    });
  }
  return withoutRepeats(
    made,
    own,
    slot.filter(endsTyped),
    from,
    signature,
    following.startsNewVersion === true,
  );
}

/** Pieces that say the same as the one before them are one band; nothing is written where nothing changes. */
function withoutRepeats(
  made: readonly { band: TargetBand; basis: string }[],
  own: readonly TargetBand[],
  endedTyped: readonly TargetBand[],
  from: Instant,
  signature: Signature | null,
  startsNewVersion: boolean,
): Written {
  const joined: { band: TargetBand; basis: string }[] = [];
  for (const each of made) {
    const last = joined.at(-1);
    const goesOn =
      last?.band.validTo === each.band.validFrom &&
      last.band.origin === each.band.origin &&
      last.band.confirmedBy === each.band.confirmedBy &&
      last.basis === each.basis &&
      sameMonths(last.band.months, each.band.months);
    if (last && goesOn)
      joined[joined.length - 1] = { ...last, band: { ...last.band, validTo: each.band.validTo } };
    else joined.push(each);
  }
  const overtaken = own.filter(
    (band) => band.validTo === null || band.validTo > Math.max(from, band.validFrom),
  );
  const [only] = overtaken;
  const [piece] = joined;
  const isSame =
    overtaken.length === 1 &&
    joined.length === 1 &&
    only !== undefined &&
    piece !== undefined &&
    only.validTo === piece.band.validTo &&
    only.origin === piece.band.origin &&
    only.confirmedBy === piece.band.confirmedBy &&
    sameMonths(only.months, piece.band.months);
  if (isSame && endedTyped.length === 0 && !startsNewVersion)
    return { bands: [], bandBasis: [{ band: only.id, basis: piece.basis }] };
  const ended = [
    ...overtaken.map((band) => ({ ...band, validTo: Math.max(from, band.validFrom) })),
    ...endedTyped.map((band) => ({ ...band, validTo: Math.max(signature?.from ?? from, band.validFrom) })),
  ];
  return {
    bands: joined.length === 0 ? [] : [...ended, ...joined.map((each) => each.band)],
    bandBasis: joined.map((each) => ({ band: each.band.id, basis: each.basis })),
  };
}

/** Bands to write, those they end included, with who set their edges. Nothing where nothing changes. */
export function followResidents(following: Following, only?: string): Written {
  const quantities = only === undefined ? quantitiesOf(following) : [only];
  const written = quantities.map((quantity) => follow(following, quantity));
  return {
    bands: written.flatMap((each) => each.bands),
    bandBasis: written.flatMap((each) => each.bandBasis),
  };
}
