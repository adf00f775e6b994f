/** What happened: piecewise straight tracks laid over the ordinary course of one place. */
import { HOUR, type Instant, MINUTE } from "#core/time/index.ts";
import type { ScenarioClock } from "./clock.ts";
import type { Scenario } from "./load.ts";
import type { Course } from "./ordinary.ts";

type Track = Scenario["course"]["tracks"][number];

/** After this many e-foldings nothing of a faded track is left to measure. */
const FADED = 15;

/** The course with one track laid over it. */
export function withTrack(base: Course, track: Track, clock: ScenarioClock): Course {
  const times = track.points.map(([moment]) => clock.instantOf(moment));
  const values = track.points.map(([, value]) => value);
  const start = times[0] as Instant;
  const end = times[times.length - 1] as Instant;
  const last = values[values.length - 1] as number;
  const fade = (track.releaseH ?? 0) * HOUR;
  const join = (track.joinMin ?? 0) * MINUTE;
  const stays = track.releaseH === undefined;
  const lay = LAY[track.mode];
  const left = lay(base(end), last) - base(end);
  return (at) => {
    if (at < start) return base(at);
    if (at <= end) {
      const laid = lay(base(at), along(times, values, at));
      if (at - start >= join) return laid;
      const share = (at - start) / join;
      return base(at) * (1 - share) + laid * share;
    }
    if (stays) return lay(base(at), last);
    if (fade === 0 || at - end > FADED * fade) return base(at);
    return base(at) + left * Math.exp((end - at) / fade);
  };
}

const LAY: Record<Track["mode"], (ordinary: number, track: number) => number> = {
  value: (_ordinary, track) => track,
  delta: (ordinary, track) => ordinary + track,
  factor: (ordinary, track) => ordinary * track,
};

/** Straight lines between the points; `at` lies between the first and the last. */
function along(times: readonly Instant[], values: readonly number[], at: Instant): number {
  for (let i = 1; i < times.length; i++) {
    const to = times[i] as Instant;
    if (at > to) continue;
    const from = times[i - 1] as Instant;
    const low = values[i - 1] as number;
    return low + (((values[i] as number) - low) * (at - from)) / (to - from);
  }
  return values[values.length - 1] as number;
}

/** The factor on a place's noise: that of the track running at the instant, else 1. */
export function noiseFactor(tracks: readonly Track[], clock: ScenarioClock): (at: Instant) => number {
  const spans = tracks.flatMap((track) => {
    const first = track.points[0]?.[0];
    const last = track.points.at(-1)?.[0];
    if (track.noise === undefined || first === undefined || last === undefined) return [];
    return [{ from: clock.instantOf(first), to: clock.instantOf(last), factor: track.noise }];
  });
  if (spans.length === 0) return () => 1;
  return (at) => spans.find((span) => at >= span.from && at <= span.to)?.factor ?? 1;
}
