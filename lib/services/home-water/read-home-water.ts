import type {
  EntryView,
  HomeWaterQuery,
  HomeWaterView,
  QuantityOfHome,
  RibbonView,
} from "#contract/home-water.ts";
import { largestGaps } from "#core/fit/index.ts";
import { livingAt, profileFor } from "#core/habitat/index.ts";
import {
  gapSentence,
  homeScoreSentence,
  type Kin,
  kinOf,
  leadFits,
  ribbonOfKin,
} from "#core/home-water/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Span } from "#core/time/spans.ts";
import { quantity as spec } from "#core/units/index.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Habitat } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { monthlyWater } from "./monthly-water.ts";
import { readFits, type StreamFits, yearAt, yearSoFar } from "./read-fits.ts";
import { readLight } from "./read-light.ts";
import { seasonOf } from "./season-of.ts";
import { commonMonths, compositeAt, conflictsOf, speciesNames } from "./shared-range.ts";

const MOST_GAPS = 4;

function ribbonViews(habitat: Habitat, kin: readonly Kin[], quantity: string): RibbonView[] {
  return kin.flatMap((each) => {
    const ribbon = ribbonOfKin(habitat.profiles, each, quantity);
    if (!ribbon) return [];
    return [
      {
        species: each.species,
        name: each.name,
        stage: each.stage,
        basis: ribbon.basis,
        months: ribbon.months.map((month) => month && { ...month }),
        entries: ribbon.entries.map(
          ({ kind, means, depth, place, years, source, mark, method, confidence }): EntryView => ({
            kind,
            means,
            depth,
            place,
            years,
            source,
            mark,
            method,
            confidence,
          }),
        ),
      },
    ];
  });
}

function residentsOf(at: SystemSetUp, instant: Instant): HomeWaterView["residents"] {
  const living = livingAt(at.residents, at.system.id, instant);
  const groups = new Map<string, typeof living>();
  for (const stay of living) {
    const key = `${stay.species}\u0000${stay.stage}`;
    groups.set(key, [...(groups.get(key) ?? []), stay]);
  }
  return [...groups.values()].flatMap((stays) => {
    const [first] = stays;
    if (!first) return [];
    return [
      {
        species: first.species,
        name: first.speciesName,
        stage: first.stage,
        count: stays.reduce((sum, { count }) => sum + count, 0),
        animals: stays.flatMap(({ animal, name }) => (name === null ? [] : [{ id: animal, name }])),
      },
    ];
  });
}

function homesOf(habitat: Habitat, kin: readonly Kin[]): HomeWaterView["homes"] {
  const homes = kin.flatMap(({ species, name, population }) => {
    const profile = profileFor(habitat.profiles, species, population);
    if (!profile || profile.latitude === null || profile.longitude === null) return [];
    return [{ species, name, latitude: profile.latitude, longitude: profile.longitude }];
  });
  return homes.filter((home, i) => homes.findIndex((other) => other.species === home.species) === i);
}

async function quantityOfHome(
  { store }: ReadDeps,
  { at, stream, rows }: StreamFits,
  habitat: Habitat,
  kin: readonly Kin[],
  year: number,
  within: Span,
  now: Instant,
): Promise<QuantityOfHome> {
  const { zone } = at.site;
  const about = spec(stream.quantity);
  const whole = compositeAt(at, habitat, stream.quantity, within.to - 1);
  const { label, unitLabel, decimals } = labelOf(stream.quantity);
  return {
    quantity: stream.quantity,
    label,
    unit: about?.kind === "number" ? about.unit : "",
    unitLabel,
    decimals,
    point: stream.pointCode,
    origin: stream.origin,
    water: await monthlyWater(store, stream, year, zone, within),
    ribbons: ribbonViews(habitat, kin, stream.quantity),
    common: whole && commonMonths(whole, speciesNames(at)),
    fits: [...rows],
    plan: await seasonOf(store, at, habitat, stream, now),
  };
}

/** The months' worst misses as sentences; the common range speaks for a species that asks for the same, and all of them for the band. */
function gapsOf(quantities: readonly QuantityOfHome[]): string[] {
  const fits = quantities.flatMap((of) =>
    of.fits
      .filter(({ kind }) => kind !== "target" || of.fits.length === 1)
      .flatMap(({ against, kind, months }) =>
        months.flatMap((fit, i) =>
          fit === null
            ? []
            : [
                {
                  ...fit,
                  quantity: of.quantity,
                  of,
                  month: i + 1,
                  against:
                    kind === "common" || kind === "target"
                      ? against
                      : `the ${kind === "native" ? "native" : "advised"} range of ${against}`,
                },
              ],
        ),
      ),
  );
  return largestGaps(fits, MOST_GAPS).map((gap) =>
    gapSentence({
      quantityLabel: labelInSentence(gap.of.label),
      unitLabel: gap.of.unitLabel,
      decimals: gap.of.decimals,
      against: gap.against,
      month: gap.month,
      share: gap.share ?? 0,
      typicalMiss: gap.typicalMiss ?? 0,
      widestMiss: gap.widestMiss ?? 0,
    }),
  );
}

function headlineOf(quantities: readonly QuantityOfHome[], light: HomeWaterView["light"]): string {
  const parts: string[] = [];
  const temperature = quantities.find(({ quantity }) => quantity === "temperature");
  if (temperature) parts.push(homeScoreSentence(leadFits(temperature.fits), temperature));
  const open = light?.findings.filter(({ to }) => to === null) ?? [];
  if (light && open.length > 0) parts.push(...open.map(({ says }) => says));
  else if (light && light.phaseFit.days > 0)
    parts.push(
      `Light: length within 15 min on ${light.lengthFit.within} of ${light.lengthFit.days} days, phase on ${light.phaseFit.within} of ${light.phaseFit.days}.`,
    );
  return parts.join(" ");
}

/** Home water of one system in a year: what its residents meet at home, how near the system came, light, conflicts, plan and sources. */
export async function readHomeWater(
  deps: ReadDeps,
  code: string,
  query: HomeWaterQuery = {},
): Promise<HomeWaterView> {
  const at = await lookUp(deps.setUp, (index) => systemOf(index, code));
  const now = deps.clock();
  const { zone } = at.site;
  const year = query.year ?? yearAt(now, zone);
  const within = yearSoFar(year, zone, now);
  const habitat = await deps.store.readHabitat();
  const kin = kinOf(at, within);
  const fits = await readFits(deps.store, habitat, [at], year, now);
  const quantities: QuantityOfHome[] = [];
  for (const one of fits) quantities.push(await quantityOfHome(deps, one, habitat, kin, year, within, now));
  const told = quantities.filter(({ water, fits: of }) => of.length > 0 || water.some(({ n }) => n > 0));
  const light = await readLight(deps.store, at, habitat, within);
  const names = speciesNames(at);
  return {
    system: at.system.code,
    systemName: at.system.name,
    siteName: at.site.name,
    zone,
    now,
    year,
    from: within.from,
    to: within.to,
    residents: residentsOf(at, within.to - 1),
    homes: homesOf(habitat, kin),
    headline: headlineOf(told, light),
    quantities: told,
    light,
    conflicts: told.flatMap(({ quantity }) => {
      const whole = compositeAt(at, habitat, quantity, within.to - 1);
      return whole ? conflictsOf(whole, names) : [];
    }),
    gaps: gapsOf(told),
  };
}
