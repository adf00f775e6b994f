import type { SeasonProposalQuery, SeasonProposalView } from "#contract/home-water-forms.ts";
import { profileFor } from "#core/habitat/index.ts";
import { kinOf } from "#core/home-water/index.ts";
import { streamFor } from "#core/light/index.ts";
import { type MonthlyRange, proposeSeason, USUAL_RATES } from "#core/season/index.ts";
import { DAY } from "#core/time/instant.ts";
import { siteDay } from "#core/time/site-time.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Habitat } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { homeCurve } from "./home-curve.ts";
import { dailyMeans } from "./monthly-water.ts";
import { readLight } from "./read-light.ts";
import type { NativeDeps } from "./read-native-water.ts";
import { watchedRamps } from "./season-watched.ts";
import { compositeAt } from "./shared-range.ts";

const WEEKS = 52;

/** The place whose season is followed: of the species asked for, else of the first resident whose profile names one. */
function homeOf(at: SystemSetUp, habitat: Habitat, species: string | undefined, now: number) {
  for (const kin of kinOf(at, { from: now, to: now + 1 })) {
    if (species !== undefined && kin.species !== species) continue;
    const profile = profileFor(habitat.profiles, kin.species, kin.population);
    if (profile && profile.latitude !== null && profile.longitude !== null)
      return { name: kin.name, place: { latitude: profile.latitude, longitude: profile.longitude } };
  }
  return null;
}

/** A native month moved by days: its mid-month value is read `shift` days later on the home's curve. */
function shifted(values: readonly number[], shift: number): number[] {
  return values.map((_, month) => {
    const moved = month + shift / 30.4375;
    const [before, share] = [Math.floor(moved), moved - Math.floor(moved)];
    const of = (m: number) => values[((m % 12) + 12) % 12] ?? Number.NaN;
    return of(before) + (of(before + 1) - of(before)) * share;
  });
}

async function standingOf(
  deps: ReadDeps,
  at: SystemSetUp,
  habitat: Habitat,
  quantity: string,
  now: number,
): Promise<number | null> {
  if (quantity === "day_length") {
    const light = await readLight(deps.store, at, habitat, { from: now - 5 * DAY, to: now });
    return light?.days.findLast(({ hours }) => hours !== null)?.hours ?? null;
  }
  const stream = streamFor(at.streams, quantity);
  const means = stream ? await dailyMeans(deps.store, stream, { from: now - 3 * DAY, to: now }) : [];
  return means.at(-1)?.[1] ?? null;
}

/**
 * Set-points by week for a year: home water within the composite band and the rate, from where the system stands now. Nothing is stored: people
 * adopt it, and no controller receives it. Throws AppError "not_found" for an unknown system.
 */
export async function readSeasonProposal(
  deps: ReadDeps & NativeDeps,
  code: string,
  query: SeasonProposalQuery,
): Promise<SeasonProposalView> {
  const at = await lookUp(deps.setUp, (index) => systemOf(index, code));
  const now = deps.clock();
  const { quantity } = query;
  const habitat = await deps.store.readHabitat();
  const { unitLabel, decimals } = labelOf(quantity);
  const rate = query.rate === undefined ? USUAL_RATES[quantity] : Number(query.rate);
  const nothing = (waits: string, home = ""): SeasonProposalView => ({
    quantity,
    unitLabel,
    decimals,
    rate,
    home,
    setPoints: [],
    heldByBand: 0,
    heldByRate: 0,
    outside: 0,
    watched: [],
    waits,
  });
  const home = homeOf(at, habitat, query.species, now);
  if (!home)
    return nothing(
      "No resident's profile gives its home coordinates: add latitude and longitude to a profile first.",
    );
  const curve = await homeCurve(deps, habitat, quantity, home.place);
  if (!curve)
    return nothing(
      `No sea within 300 km of ${home.place.latitude}, ${home.place.longitude}: load your own home water data first.`,
    );
  const said = `${home.name}: ${curve.from}`;
  const whole = compositeAt(at, habitat, quantity, now);
  const room: MonthlyRange[] = Array.from({ length: 12 }, (_, i) => {
    const month = whole?.months[i];
    if (!month) return { low: null, high: null };
    if (month.conflict) return month.edges && { low: month.edges.low, high: month.edges.high };
    return { low: month.low?.value ?? null, high: month.high?.value ?? null };
  });
  const found = proposeSeason({
    native: shifted(curve.values, Number(query.shift ?? 0)),
    room,
    from: siteDay(now, at.site.zone).start,
    standing: await standingOf(deps, at, habitat, quantity, now),
    weeks: WEEKS,
    rate,
    zone: at.site.zone,
  });
  if (!found.ok) return nothing(`No proposal yet: ${found.says}; ${found.remedy}.`, said);
  const { setPoints, heldByBand, heldByRate, outside } = found.proposal;
  return {
    quantity,
    unitLabel,
    decimals,
    rate,
    home: said,
    setPoints: setPoints.map(([when, value]): [number, number] => [when, value]),
    heldByBand,
    heldByRate,
    outside: outside.length,
    watched: watchedRamps(at, habitat, setPoints, now),
    waits: null,
  };
}
