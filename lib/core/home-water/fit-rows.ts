import { type MonthEdges, type MonthHalf, type Stretch, stretchesOf } from "../fit/index.ts";
import {
  bandFor,
  type Compromise,
  changesFrom,
  composite,
  livingAt,
  type Profile,
  profileFor,
} from "../habitat/index.ts";
import type { Resident, Stream } from "../set-up/set-up.ts";
import type { SystemSetUp } from "../set-up/system-set-up.ts";
import { turnsOf } from "../time/in-force.ts";
import { type Span, spansBetween } from "../time/spans.ts";
import { mergedSpans, type Ribbon, ribbonOf } from "./ribbon.ts";

/** What is compared with a system, and the stretches of each month. */
export interface FitRow {
  readonly kind: "native" | "advice" | "common" | "target";
  readonly against: string;
  /** By month, January first. */
  readonly months: readonly (readonly Stretch[])[];
}
export interface Kin {
  readonly species: string;
  readonly name: string;
  readonly stage: Resident["stage"];
  readonly population: string | null;
  readonly stays: readonly Resident[];
}
/** What is known of homes, and the compromises agreed on between them. */
interface Homes {
  readonly profiles: readonly Profile[];
  readonly compromises: readonly Compromise[];
}

/** Residents of a system within a span, those of one species, population and stage together: they have one home. */
export function kinOf(at: SystemSetUp, { from, to }: Span): Kin[] {
  const groups = new Map<string, Resident[]>();
  for (const stay of at.residents) {
    if (stay.from >= to || (stay.to !== null && stay.to <= from)) continue;
    const key = [stay.species, stay.population ?? "", stay.stage].join("\u0000");
    groups.set(key, [...(groups.get(key) ?? []), stay]);
  }
  return [...groups.values()].flatMap((stays) => {
    const [first] = stays;
    if (!first) return [];
    const { species, stage, population, speciesName } = first;
    return [{ species, name: speciesName, stage, population, stays }];
  });
}

export const kinName = ({ name, stage, population }: Kin): string =>
  `${name}${population === null ? "" : ` (${population})`}${stage === "adult" ? "" : `, ${stage}`}`;

export function ribbonOfKin(profiles: readonly Profile[], kin: Kin, quantity: string): Ribbon | null {
  const profile = profileFor(profiles, kin.species, kin.population);
  return profile ? ribbonOf(profile, quantity, kin.stage) : null;
}

type MonthsOfYear = readonly (readonly Stretch[])[];

function byMonth(
  stream: Stream,
  ranges: readonly (MonthEdges | null)[],
  halves: readonly MonthHalf[],
  spans: readonly Span[],
): MonthsOfYear {
  return Array.from({ length: 12 }, (_, i) => {
    const own = halves.filter(({ month }) => month === i + 1);
    return spans.flatMap(({ from, to }) => stretchesOf(stream.id, ranges, own, from, to));
  });
}

const joinMonths = (parts: readonly MonthsOfYear[]): MonthsOfYear =>
  Array.from({ length: 12 }, (_, i) => parts.flatMap((part) => part[i] ?? []));

function commonRow(
  at: SystemSetUp,
  homes: Homes,
  stream: Stream,
  halves: readonly MonthHalf[],
  within: Span,
): FitRow | null {
  const changes = changesFrom(at.residents, at.system.id, within.from);
  const parts = spansBetween(changes, within).map((span) => {
    const living = livingAt(at.residents, at.system.id, span.from);
    const whole = composite(stream.quantity, living, homes.profiles, homes.compromises, span.from);
    // Months of conflict are not scored: no water could have been right.
    const ranges = whole.months.map(({ low, high, conflict }) =>
      conflict || (!low && !high) ? null : { low: low?.value ?? null, high: high?.value ?? null },
    );
    return byMonth(stream, ranges, halves, [span]);
  });
  const months = joinMonths(parts);
  return months.some((month) => month.length > 0)
    ? { kind: "common", against: "the common range", months }
    : null;
}

function targetRow(
  at: SystemSetUp,
  stream: Stream,
  halves: readonly MonthHalf[],
  within: Span,
): FitRow | null {
  const bands = at.bands.filter((band) => band.quantity === stream.quantity);
  const parts = spansBetween(turnsOf(bands), within).map((span) => {
    const band = bandFor(bands, at.system.id, stream.quantity, stream.pointCode, span.from);
    if (!band) return [];
    const ranges = Array.from(
      { length: 12 },
      (_, i) => band.months[band.months.length === 1 ? 0 : i] ?? null,
    );
    return byMonth(stream, ranges, halves, [span]);
  });
  const months = joinMonths(parts);
  return months.some((month) => month.length > 0)
    ? { kind: "target", against: "the target band", months }
    : null;
}

/**
 * Everything a stream of a system is compared with within a span: each kin's own range while it lived there, the range they have in common, and
 * the target band. Nothing is averaged across species.
 */
export function fitRows(
  at: SystemSetUp,
  homes: Homes,
  stream: Stream,
  halves: readonly MonthHalf[],
  within: Span,
): FitRow[] {
  const rows = kinOf(at, within).flatMap((kin): FitRow[] => {
    const ribbon = ribbonOfKin(homes.profiles, kin, stream.quantity);
    if (!ribbon) return [];
    const spans = mergedSpans(
      kin.stays.map((stay) => ({
        from: Math.max(stay.from, within.from),
        to: Math.min(stay.to ?? within.to, within.to),
      })),
    );
    return [
      { kind: ribbon.basis, against: kinName(kin), months: byMonth(stream, ribbon.months, halves, spans) },
    ];
  });
  const common = commonRow(at, homes, stream, halves, within);
  if (common) rows.push(common);
  const target = targetRow(at, stream, halves, within);
  if (target) rows.push(target);
  return rows;
}
