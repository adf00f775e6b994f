import type { WatchedRampsView } from "#contract/home-water.ts";
import { countedWindow, rampsWatched } from "#core/habitat/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Habitat } from "#store/port.ts";
import { watchedName, watchesOf } from "../habitat/living-views.ts";
import type { SystemSetUp } from "../set-up.ts";

/** The open breeding watches in whose time a plan's set-points would ramp from now on, each with how many steps and how far. */
export function watchedRamps(
  at: SystemSetUp,
  habitat: Pick<Habitat, "watches">,
  setPoints: readonly (readonly [Instant, number])[],
  now: Instant,
): WatchedRampsView[] {
  const begun = setPoints.findLastIndex(([when]) => when <= now);
  const ahead = setPoints.slice(Math.max(0, begun));
  return watchesOf(at, habitat)
    .filter((watch) => watch.endedAt === null)
    .flatMap((watch) => {
      const ramps = rampsWatched(watch, at.residents, at.system.id, ahead, now);
      if (!ramps) return [];
      const { earliest, latest } = countedWindow(watch);
      return [{ watch: watch.id, who: watchedName(watch, at), kind: watch.kind, earliest, latest, ...ramps }];
    });
}
