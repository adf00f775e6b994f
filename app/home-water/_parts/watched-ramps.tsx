import css from "#app/_components/drawing/home-water.module.css";
import type { WatchedRampsView } from "#contract/home-water.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { signedMostText } from "#core/units/bound-text.ts";

/** Which breeding watches a plan ramps in, and what to do about it. Nothing where it ramps in none. */
export function WatchedRamps({
  ramps,
  decimals,
  unitLabel,
  clock,
}: {
  readonly ramps: readonly WatchedRampsView[];
  readonly decimals: number;
  readonly unitLabel: string;
  readonly clock: ZoneClock;
}) {
  if (ramps.length === 0) return null;
  const day = (at: number) => `${clock.day(at)} ${clock.year(at)}`;
  return (
    <ul className={css.findings} data-watched-ramps="">
      {ramps.map((ramp) => (
        <li key={ramp.watch} data-severity="look">
          {ramp.who}: {ramp.kind === "gestation" ? "birth" : "hatching"} expected{" "}
          {ramp.earliest === null ? "from now on" : `from ${day(ramp.earliest)}`}{" "}
          {ramp.latest === null ? "with no latest date" : `to ${day(ramp.latest)}`}. In that time {ramp.steps}{" "}
          {ramp.steps === 1 ? "step of this plan ramps" : "steps of this plan ramp"}, between {day(ramp.from)}{" "}
          and {day(ramp.to)}, by up to {signedMostText(ramp.most, Math.max(decimals, 1), unitLabel)} a step.
          Keep the set-point constant until the watch ends.
        </li>
      ))}
    </ul>
  );
}
