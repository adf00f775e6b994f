import type { Instant } from "../time/instant.ts";
import { type MonthBracket, monthBracketWalker, siteDayWalker } from "../time/site-time.ts";
import { type BandTurn, bandTurnWalker } from "./band-turns.ts";
import type { SystemSettings } from "./settings.ts";

export interface Folder {
  readonly settings: SystemSettings;
  readonly dayOf: (at: Instant) => { readonly start: Instant; readonly end: Instant };
  readonly monthsOf: (at: Instant) => MonthBracket;
  /** Bands that come into force in (after, upTo]. */
  readonly bandTurns: (after: Instant, upTo: Instant) => readonly BandTurn[];
}
/** Settings with the walkers that remember the last site day and month. */
export const createFolder = (settings: SystemSettings): Folder => ({
  settings,
  dayOf: siteDayWalker(settings.zone),
  monthsOf: monthBracketWalker(settings.zone),
  bandTurns: bandTurnWalker(settings.streams),
});
