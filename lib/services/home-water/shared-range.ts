import type { CommonMonthView, EdgeView, HomeWaterView } from "#contract/home-water.ts";
import { type Composite, composite, type EdgeOrigin, livingAt } from "#core/habitat/index.ts";
import type { Instant } from "#core/time/instant.ts";
import { monthRuns } from "#core/time/month-names.ts";
import { quantity as spec } from "#core/units/index.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { edgeText, numberText } from "#core/units/number-text.ts";
import type { Habitat } from "#store/port.ts";
import type { SystemSetUp } from "../set-up.ts";

type Names = ReadonlyMap<string, string>;
type CompromiseView = CommonMonthView["compromise"];

/** Names of the species that live in a system, by id. */
export const speciesNames = (at: SystemSetUp): Names =>
  new Map(at.residents.map((stay) => [stay.species, stay.speciesName]));

const nameOf = (names: Names, species: string) => names.get(species) ?? species;

const edgeView = (origin: EdgeOrigin | null, names: Names): EdgeView =>
  origin && {
    value: origin.value,
    species: origin.species,
    speciesName: nameOf(names, origin.species),
    stage: origin.stage,
    kind: origin.kind,
    source: origin.source,
    mark: origin.mark,
    confidence: origin.confidence,
  };

/** What the animals that live in a system at an instant ask for; null where nothing is known of any of them. */
export function compositeAt(
  at: SystemSetUp,
  habitat: Habitat,
  quantity: string,
  instant: Instant,
): Composite | null {
  const living = livingAt(at.residents, at.system.id, instant);
  const whole = composite(quantity, living, habitat.profiles, habitat.compromises, instant);
  return whole.known.length === 0 ? null : whole;
}

export function commonMonths(whole: Composite, names: Names): CommonMonthView[] {
  return whole.months.map(({ month, low, high, conflict, compromise }) => ({
    month,
    low: edgeView(low, names),
    high: edgeView(high, names),
    gap: conflict === null ? null : conflict.gap,
    compromise: compromise && {
      low: compromise.low,
      high: compromise.high,
      reason: compromise.reason,
      signedBy: compromise.signedBy,
      signedAt: compromise.signedAt,
      months: [...compromise.months],
    },
  }));
}

/** Months in which no value suits everybody, once for each pair of animals that disagree. */
export function conflictsOf(whole: Composite, names: Names): HomeWaterView["conflicts"] {
  const months = whole.months.filter(({ conflict }) => conflict !== null);
  const pairs = new Map<string, typeof months>();
  for (const month of months) {
    const key = [month.low?.species, month.low?.stage, month.high?.species, month.high?.stage].join("\u0000");
    pairs.set(key, [...(pairs.get(key) ?? []), month]);
  }
  const views = commonMonths(whole, names);
  return [...pairs.values()].flatMap((of) => {
    const worst = [...of].sort((a, b) => (b.conflict?.gap ?? 0) - (a.conflict?.gap ?? 0))[0];
    if (!worst?.conflict) return [];
    const { gap, low, high } = worst.conflict;
    const about = spec(whole.quantity);
    const decimals = about?.kind === "number" ? about.decimals : 1;
    const unit = about?.kind === "number" && about.unitLabel !== "" ? ` ${about.unitLabel}` : "";
    const said = (value: number) => `${edgeText(value, decimals)}${unit}`;
    const runs = monthRuns(of.map(({ month }) => month));
    const stage = (origin: EdgeOrigin) => (origin.stage === "adult" ? "" : `, ${origin.stage}`);
    const compromise: CompromiseView =
      views.find((view) => view.month === worst.month)?.compromise ??
      views.find((view) => of.some(({ month }) => month === view.month) && view.compromise)?.compromise ??
      null;
    return [
      {
        quantity: whole.quantity,
        says: `No common ${labelInSentence(about?.label ?? whole.quantity)} in ${runs}: ${nameOf(names, low.species)}${stage(low)} needs at least ${said(low.value)}, ${nameOf(names, high.species)}${stage(high)} at most ${said(high.value)}. The gap is ${numberText(gap, decimals)}${unit}.`,
        gap,
        months: of.map(({ month }) => month),
        compromise,
      },
    ];
  });
}
