import type { BandsView, BandView, SystemSetUpView } from "#contract/set-up-forms.ts";
import { bandFor } from "#core/habitat/index.ts";
import { basisWords, hasBasis, type ProbeBasis, USUAL_BASIS } from "#core/set-up/probe-basis.ts";
import { SECOND } from "#core/time/instant.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Stream } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { lookUp, systemOf } from "../set-up.ts";

/** Every band of a system, in force or not, with who set it and why. Throws AppError "not_found". */
export async function readBands(deps: ReadDeps, code: string): Promise<BandsView> {
  const now = deps.clock();
  const at = await lookUp(deps.setUp, (index) => systemOf(index, code));
  const points = at.points.map((point) => point.code);
  const bands = at.bands.map((band): BandView => {
    const { label, unit, unitLabel, decimals } = labelOf(band.quantity);
    const places = band.point === null ? points : [band.point];
    const inForce = places.some(
      (point) => bandFor(at.bands, at.system.id, band.quantity, point, now)?.id === band.id,
    );
    return {
      id: band.id,
      quantity: band.quantity,
      quantityLabel: label,
      unit,
      unitLabel,
      decimals,
      point: band.point,
      months: band.months.map(({ noCommonRange: _told, ...edges }) => edges),
      validFrom: band.validFrom,
      validTo: band.validTo,
      recorded: band.recordedAt,
      setBy: band.setBy,
      reason: band.reason,
      source: band.source,
      inForce,
    };
  });
  bands.sort(
    (a, b) =>
      Number(b.inForce) - Number(a.inForce) ||
      a.quantity.localeCompare(b.quantity, "en") ||
      b.validFrom - a.validFrom ||
      b.recorded - a.recorded,
  );
  return { now, zone: at.site.zone, system: at.system.code, name: at.system.name, bands };
}

/** What a pH or ORP probe's numbers stand on, from the beginning; nothing for other streams. */
const basesOf = (stream: Stream): readonly ProbeBasis[] =>
  hasBasis(stream) ? [USUAL_BASIS, ...(stream.basis ?? [])] : [];

/** What is set up of one system. Throws AppError "not_found". */
export async function readSystemSetUp(deps: ReadDeps, code: string): Promise<SystemSetUpView> {
  const at = await lookUp(deps.setUp, (index) => systemOf(index, code));
  const { system, site } = at;
  return {
    system: system.code,
    site: site.code,
    siteName: site.name,
    zone: site.zone,
    name: system.name,
    kind: system.kind,
    type: system.type,
    startingBands: system.startingBands,
    water: system.water,
    volume: system.volume,
    duty: system.duty,
    youngFilter: system.youngFilter,
    opened: system.opened,
    closed: system.closed,
    loops: at.loops.map(({ code: loop, name }) => ({ code: loop, name })),
    points: at.points.map(({ id, code: point, role, roleGuessed, twinOf }) => ({
      id,
      code: point,
      role,
      roleGuessed,
      twinOf: at.points.find((row) => row.id === twinOf)?.code ?? null,
    })),
    streams: at.streams.map((stream) => {
      const { label, unitLabel } = labelOf(stream.quantity);
      return {
        stream: stream.id,
        point: stream.pointCode,
        quantity: stream.quantity,
        label,
        unitLabel,
        origin: stream.origin,
        intervalSeconds: stream.interval === null ? null : stream.interval / SECOND,
        critical: stream.critical,
        basis: basesOf(stream).map((basis) => ({
          from: Number.isFinite(basis.from) ? basis.from : null,
          phScale: basis.phScale,
          phOffset: basis.phOffset,
          electrode: basis.electrode,
          words: basisWords(stream.quantity, basis) ?? "",
        })),
      };
    }),
  };
}
