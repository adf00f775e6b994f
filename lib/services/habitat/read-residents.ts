import type { AskedBand, ResidentsView } from "#contract/habitat.ts";
import {
  type BandEdges,
  bandFor,
  type Compromise,
  coveredQuantities,
  type EdgeOrigin,
  keepTo,
  type LimitOrigin,
  livingAt,
  sameMonths,
} from "#core/habitat/index.ts";
import { askedAt } from "#core/set-up/follow-residents.ts";
import { mainPoint, pointRole } from "#core/set-up/point-role.ts";
import type { Instant } from "#core/time/instant.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Habitat, TargetBand } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { nameOfStay } from "./habitat-write.ts";
import { byArrival, stayView, watchViews } from "./living-views.ts";

function monthOf(band: TargetBand | undefined, month: number): BandEdges | null {
  const found = band && (band.months.length === 12 ? band.months[month - 1] : band.months[0]);
  if (!found) return null;
  const { noCommonRange: _told, ...edges } = found;
  return edges;
}

const limitWords = (limit: LimitOrigin | null, names: (id: string) => string) =>
  limit && {
    value: limit.value,
    says:
      limit.from === "margin"
        ? `${limit.margin} beyond the edge, common practice, no source`
        : limit.from === "compromise"
          ? "as signed with the compromise"
          : `${limit.from} by ${names(limit.origin.species)} (${limit.origin.source})`,
  };

function askedBand(
  at: SystemSetUp,
  habitat: Habitat,
  quantity: string,
  now: Instant,
  names: (id: string) => string,
): AskedBand[] {
  const { profiles, compromises } = habitat;
  const asked = askedAt({ at, stays: at.residents, profiles, compromises }, quantity, now);
  if (!asked) return [];
  const places = at.points.filter((point) => pointRole(point.role).water === "system");
  const band = [mainPoint(places)?.code ?? "", ...places.map((point) => point.code)]
    .map((point) => bandFor(at.bands, at.system.id, quantity, point, now))
    .find((each) => each !== undefined);
  const byId = new Map(at.residents.map((stay) => [stay.id, stay]));
  const origin = (edge: EdgeOrigin | null) =>
    edge && {
      value: edge.value,
      species: edge.species,
      speciesName: names(edge.species),
      stage: edge.stage,
      who: edge.stays
        .flatMap((id) => byId.get(id) ?? [])
        .map((stay) => stay.name ?? String(stay.count))
        .join(", "),
      kind: edge.kind,
      source: edge.source,
      mark: edge.mark,
      confidence: edge.confidence,
    };
  const { label, unitLabel, decimals } = labelOf(quantity);
  const isTyped = band !== undefined && (band.origin === undefined || band.origin === "person");
  const awaits = keepTo(band?.months ?? [], asked.months, []).awaits.filter((month) => {
    const wanted = asked.months[month - 1] ?? null;
    const kept = monthOf(band, month);
    return wanted === null || kept === null || !sameMonths([wanted], [kept]);
  });
  return [
    {
      quantity,
      label,
      unitLabel,
      decimals,
      point: band?.point ?? null,
      origin: band ? (isTyped ? "person" : (band.origin ?? "person")) : null,
      confirmedBy: band?.confirmedBy ?? null,
      asks: asked.origin === "type" ? "type" : "residents",
      awaits,
      conflicts: asked.composite.months.filter((month) => month.conflict).map((month) => month.month),
      unknown: asked.composite.unknown.flatMap((id) => {
        const stay = byId.get(id);
        return stay ? [nameOfStay(stay)] : [];
      }),
      months: asked.composite.months.map((month) => ({
        month: month.month,
        low: origin(month.low),
        high: origin(month.high),
        actionLow: limitWords(month.actionLow, names),
        actionHigh: limitWords(month.actionHigh, names),
        gap: month.conflict?.gap ?? null,
        compromise: month.compromise?.id ?? null,
        asked: asked.months[month.month - 1] ?? null,
        kept: monthOf(band, month.month),
      })),
    },
  ];
}

const compromiseView = (signed: Compromise, names: (id: string) => string) => ({
  id: signed.id,
  quantity: signed.quantity,
  label: labelOf(signed.quantity).label,
  months: [...signed.months],
  between: `${names(signed.lowSide.species)} (${signed.lowSide.stage}) and ${names(signed.highSide.species)} (${signed.highSide.stage})`,
  low: signed.low,
  high: signed.high,
  reason: signed.reason,
  signedBy: signed.signedBy,
  signed: signed.signedAt,
  from: signed.validFrom,
  to: signed.validTo,
});

/** Who lives in a system, which bands they ask for and who sets each edge, what is in force, compromises and breeding watches. Throws AppError "not_found". */
export async function readResidents(deps: ReadDeps, code: string): Promise<ResidentsView> {
  const now = deps.clock();
  const { index, at } = await lookUp(deps.setUp, (found) => ({ index: found, at: systemOf(found, code) }));
  const habitat = await deps.store.readHabitat();
  const names = (id: string) => habitat.species.find((each) => each.id === id)?.name ?? id;
  const here = livingAt(at.residents, at.system.id, now);
  const followed = at.bands.filter(
    (band) => band.origin !== undefined && (band.validTo === null || band.validTo > now),
  );
  const quantities = [
    ...new Set([...coveredQuantities(here, habitat.profiles), ...followed.map((band) => band.quantity)]),
  ].sort();
  const mine = <T extends { readonly system: string }>(rows: readonly T[]) =>
    rows.filter((row) => row.system === at.system.id);
  return {
    now,
    zone: at.site.zone,
    system: at.system.code,
    name: at.system.name,
    residents: [...here].sort(byArrival).map((stay) => stayView(stay, habitat)),
    before: at.residents
      .filter((stay) => stay.to !== null && stay.to <= now)
      .sort((a, b) => (b.to ?? 0) - (a.to ?? 0))
      .slice(0, 50)
      .map((stay) => stayView(stay, habitat)),
    bands: quantities.flatMap((quantity) => askedBand(at, habitat, quantity, now, names)),
    compromises: mine(habitat.compromises)
      .toReversed()
      .map((signed) => compromiseView(signed, names)),
    watches: await watchViews(deps, index, at, habitat, now),
    species: habitat.species.map(({ id, name, scientific, group }) => ({ id, name, scientific, group })),
    systems: index.systems
      .filter((each) => each.system.closed === null && each.system.id !== at.system.id)
      .map((each) => ({ system: each.system.code, name: each.system.name })),
  };
}
