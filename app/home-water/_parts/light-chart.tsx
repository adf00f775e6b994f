import css from "#app/_components/drawing/home-water.module.css";
import type { LightView } from "#contract/home-water.ts";
import { hoursText } from "#core/time/duration-text.ts";
import { roundTo } from "#core/units/rounding.ts";
import { YearDrawing } from "./ribbon-chart.tsx";
import { scaleOf, xOfDay } from "./ribbon-geometry.ts";

const DAY = 86_400_000;
/** Minutes to either side within which length and phase are well. */
const WELL = 15;

interface LightOfYear {
  readonly light: LightView;
  /** Start of the year at the site. */
  readonly from: number;
  readonly today: number | null;
}
const dayOf = (start: number, from: number) => Math.round((start - from) / DAY);

function points(rows: readonly (readonly [number, number])[], y: (value: number) => number): string {
  return rows.map(([day, value]) => `${roundTo(xOfDay(day), 2)},${roundTo(y(value), 2)}`).join(" ");
}

/** Dots as lines of no length: a round cap keeps them round whatever the drawing's shape. */
const dots = (rows: readonly (readonly [number, number])[], y: (value: number) => number) =>
  rows.map(([day, value]) => `M${roundTo(xOfDay(day), 2)} ${roundTo(y(value), 2)}h0`).join("");

export function LightLength({ light, from, today }: LightOfYear) {
  const known = light.days.filter(({ hours }) => hours !== null);
  const goal = light.days.flatMap(({ start, native, planned }) => {
    const hours = native ?? planned;
    return hours === null ? [] : [[dayOf(start, from), hours] as const];
  });
  const scale = scaleOf([...known.map(({ hours }) => hours), ...goal.map(([, hours]) => hours)]);
  const rows = known.map(({ start, hours }) => [dayOf(start, from), hours ?? 0] as const);
  const last = rows.at(-1);
  const band = [
    ...goal.map(([day, h]) => [day, h + WELL / 60] as const),
    ...[...goal].reverse().map(([day, h]) => [day, h - WELL / 60] as const),
  ];
  return (
    <YearDrawing
      scale={scale}
      decimals={1}
      today={today}
      className={css.middling}
      label={`Hours of light a day; ${last ? `${hoursText(last[1])} on the last whole day` : "none measured"}`}
      marks={
        last && (
          <span
            className={css.value}
            style={{
              left: `min(${xOfDay(last[0])}%, 80%, calc(100% - 5.5rem))`,
              top: `${scale.y(last[1])}%`,
            }}
          >
            {hoursText(last[1])}
          </span>
        )
      }
    >
      <polygon className={css.common} points={points(band, scale.y)} />
      <path className={css.dots} d={dots(rows, scale.y)} />
    </YearDrawing>
  );
}

export function LightPhase({ light, from, today }: LightOfYear) {
  const rows = light.days.flatMap(({ start, phaseOff }) =>
    phaseOff === null ? [] : [[dayOf(start, from), Math.max(-120, Math.min(120, phaseOff))] as const],
  );
  const scale = scaleOf([-30, 30, ...rows.map(([, off]) => off)]);
  const [well, off] = [
    rows.filter(([, m]) => Math.abs(m) <= WELL),
    rows.filter(([, m]) => Math.abs(m) > WELL),
  ];
  return (
    <YearDrawing
      scale={scale}
      decimals={0}
      today={today}
      className={css.short}
      label={`Minutes from the planned middle of the light; ${off.length} of ${rows.length} days more than ${WELL} min off`}
    >
      <rect
        className={css.common}
        x={0}
        width={100}
        y={scale.y(WELL)}
        height={scale.y(-WELL) - scale.y(WELL)}
      />
      <path className={css.dots} d={dots(well, scale.y)} />
      <path className={css.dotsOut} d={dots(off, scale.y)} />
    </YearDrawing>
  );
}
