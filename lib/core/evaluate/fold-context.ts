import { type LightSetting, type PlannedLight, plannedLight } from "../light/index.ts";
import type { Instant } from "../time/instant.ts";
import { type MonthBracket, monthBracketWalker, siteDayWalker } from "../time/site-time.ts";
import { type BandChange, bandChangeWalker } from "./band-changes.ts";
import type { SystemSettings } from "./settings.ts";

export interface FoldContext {
  readonly settings: SystemSettings;
  readonly dayOf: (at: Instant) => { readonly start: Instant; readonly end: Instant };
  readonly monthsOf: (at: Instant) => MonthBracket;
  /** Bands that come into force in (after, upTo]. */
  readonly bandChanges: (after: Instant, upTo: Instant) => readonly BandChange[];
  readonly light: LightSetting;
}
/** Settings with the walkers that remember the last site day and month. */
export function createFoldContext(settings: SystemSettings): FoldContext {
  const dayOf = siteDayWalker(settings.zone);
  return {
    settings,
    dayOf,
    monthsOf: monthBracketWalker(settings.zone),
    bandChanges: bandChangeWalker(settings.streams),
    light: { zone: settings.zone, dayOf, plannedOn: plannedWalker(settings, dayOf) },
  };
}

/** The light planned for a site day, remembering the last answer: it is asked for every sample. */
function plannedWalker({ lightPlans, zone }: SystemSettings, dayOf: FoldContext["dayOf"]) {
  let day: Instant | null = null;
  let planned: PlannedLight | null = null;
  return (start: Instant): PlannedLight | null => {
    if (start !== day) planned = plannedLight(lightPlans, dayOf(start), zone);
    day = start;
    return planned;
  };
}
