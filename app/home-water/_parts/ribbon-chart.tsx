import css from "#app/_components/drawing/home-water.module.css";
import drawing from "#app/_components/drawing/ribbon.module.css";
import type { CommonMonthView, QuantityOfHome } from "#contract/home-water.ts";
import { WELL } from "#core/fit/index.ts";
import { leadFits } from "#core/home-water/lead-fit.ts";
import { numberText, signedText } from "#core/units/number-text.ts";
import {
  cornersOf,
  edgeOn,
  edgePath,
  type RangeOfMonth,
  roomOf,
  type Scale,
  scaleOf,
  spread,
  tickPlaces,
  xOfDay,
  xOfMonth,
} from "./ribbon-geometry.ts";

const INITIALS = ["J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D"] as const;
const STARTS = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334] as const;
const DASHES = ["none", "7 4", "2 3", "9 3 2 3", "14 4"] as const;

/** Native values of a place drawn under the ranges, for a comparison with coordinates. */
export interface NativeLine {
  readonly label: string;
  readonly months: readonly number[];
  readonly spread: readonly number[] | null;
}

const commonRange = (common: readonly CommonMonthView[] | null): readonly (RangeOfMonth | null)[] =>
  (common ?? []).map(({ low, high }) =>
    low || high ? { low: low?.value ?? null, high: high?.value ?? null } : null,
  );

function Frame({ scale }: { scale: Scale }) {
  return (
    <>
      {STARTS.map((day) => (
        <line key={day} className={css.rule} x1={xOfDay(day)} x2={xOfDay(day)} y1={0} y2={100} />
      ))}
      {scale.ticks.map((tick) => (
        <line key={tick} className={css.rule} x1={0} x2={100} y1={scale.y(tick)} y2={scale.y(tick)} />
      ))}
    </>
  );
}

function Axes({ scale, decimals }: { scale: Scale; decimals: number }) {
  const places = tickPlaces(scale.ticks, decimals);
  return (
    <>
      {scale.ticks.map((tick) => (
        <span key={tick} className={css.tick} style={{ top: `${scale.y(tick)}%` }}>
          {numberText(tick, places)}
        </span>
      ))}
      {INITIALS.map((initial, month) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: twelve months in their order, three of them with the same initial
        <span key={month} className={css.month} style={{ left: `${xOfMonth(month)}%` }}>
          {initial}
        </span>
      ))}
    </>
  );
}

/** The frame of a year's drawing: it fills its box, and lines keep their width whatever the box. */
export function YearDrawing({
  scale,
  decimals,
  label,
  today,
  className,
  children,
  marks,
}: {
  readonly scale: Scale;
  readonly decimals: number;
  readonly label: string;
  /** Day of the year that is today, null in another year. */
  readonly today: number | null;
  readonly className?: string | undefined;
  readonly children: React.ReactNode;
  readonly marks?: React.ReactNode;
}) {
  return (
    <div className={`${css.plot} ${className ?? ""}`} role="img" aria-label={label}>
      <svg viewBox="0 0 100 100" preserveAspectRatio="none" className={drawing.drawing} aria-hidden="true">
        <Frame scale={scale} />
        {children}
        {today !== null && (
          <line className={css.today} x1={xOfDay(today)} x2={xOfDay(today)} y1={0} y2={100} />
        )}
      </svg>
      {marks}
      {today !== null && (
        <span className={css.todayWord} style={{ left: `${xOfDay(today)}%` }}>
          today
        </span>
      )}
      <Axes scale={scale} decimals={decimals} />
    </div>
  );
}

function MonthMark({ of, month, scale }: { of: QuantityOfHome; month: number; scale: Scale }) {
  const water = of.water[month];
  if (!water || water.n === 0 || water.low === null || water.high === null || water.median === null)
    return null;
  const row = leadFits(of.fits).lead;
  const fit = row?.months[month];
  const isOut = fit !== undefined && fit !== null && fit.share !== null && fit.share < WELL;
  const x = `${xOfMonth(month)}%`;
  const [top, bottom] = [scale.y(water.high), scale.y(water.low)];
  const miss = isOut ? fit.widestMiss : null;
  return (
    <>
      <span
        className={css.span}
        data-out={isOut || undefined}
        style={{ left: x, top: `${top}%`, height: `${bottom - top}%` }}
      />
      <span
        className={css.median}
        data-out={isOut || undefined}
        style={{ left: x, top: `${scale.y(water.median)}%` }}
      />
      {miss !== null && (
        <span
          className={css.miss}
          data-side={miss > 0 ? "over" : "under"}
          style={{ left: x, top: `${miss > 0 ? top : bottom}%` }}
        >
          {miss > 0 ? "▲" : "▼"} {signedText(miss, of.decimals, "")}
        </span>
      )}
    </>
  );
}

function Gaps({
  range,
  of,
  scale,
}: {
  range: readonly (RangeOfMonth | null)[];
  of: QuantityOfHome;
  scale: Scale;
}) {
  return roomOf(range)
    .filter(({ isGap, days }) => isGap && days.length > 1)
    .map(({ days }) => {
      const corners = cornersOf(range, days, scale).map((corner) =>
        corner
          .split(" ")
          .map((n) => `${n}%`)
          .join(" "),
      );
      const middle = days[Math.floor(days.length / 2)] ?? 0;
      const [low, high] = [edgeOn(range, "low", middle) ?? 0, edgeOn(range, "high", middle) ?? 0];
      return (
        <span key={days[0]}>
          <span className={css.hatch} style={{ clipPath: `polygon(${corners.join(", ")})` }} />
          <span
            className={css.gapWord}
            style={{
              left: `clamp(5rem, ${xOfDay(middle)}%, calc(100% - 5rem))`,
              top: `${scale.y((low + high) / 2)}%`,
            }}
          >
            ranges {numberText(low - high, of.decimals)} {of.unitLabel} apart
          </span>
        </span>
      );
    });
}

function Key({ of, native, hasGap }: { of: QuantityOfHome; native: NativeLine | null; hasGap: boolean }) {
  return (
    <ul className={css.key}>
      {of.ribbons.map((ribbon, i) => (
        <li key={`${ribbon.species}/${ribbon.stage}`}>
          <svg viewBox="0 0 24 12" aria-hidden="true">
            <path className={css.edge} strokeDasharray={DASHES[i % DASHES.length]} d="M0 2h24M0 10h24" />
          </svg>
          {ribbon.name}
          {ribbon.stage === "adult" ? "" : `, ${ribbon.stage}`}
          {ribbon.basis === "advice" ? " (advised)" : ""}
        </li>
      ))}
      {of.common && (
        <li>
          <i className={css.swatch} />
          common to all residents
        </li>
      )}
      {hasGap && (
        <li>
          <i className={css.hatched} />
          no common range
        </li>
      )}
      {native && (
        <li>
          <svg viewBox="0 0 24 12" aria-hidden="true">
            <path className={css.nativeLine} d="M0 6h24" />
          </svg>
          {native.label}
        </li>
      )}
      <li>
        <i className={css.waterKey} />
        this system, 5–95 % and median
      </li>
    </ul>
  );
}

/** One quantity through the year: a ribbon a species, the common range filled, hatched where there is none, and the system's months on it. */
export function RibbonChart({
  of,
  today,
  native = null,
}: {
  readonly of: QuantityOfHome;
  readonly today: number | null;
  readonly native?: NativeLine | null;
}) {
  const range = commonRange(of.common);
  const values = [
    ...of.ribbons.flatMap(({ months }) => months.flatMap((month) => [month?.low, month?.high])),
    ...range.flatMap((month) => [month?.low, month?.high]),
    ...of.water.flatMap(({ low, high }) => [low, high]),
    ...(native
      ? native.months.flatMap((value, i) => [
          value - (native.spread?.[i] ?? 0),
          value + (native.spread?.[i] ?? 0),
        ])
      : []),
  ];
  const scale = scaleOf(values);
  const room = roomOf(range);
  const nativeRange = native?.months.map((value, i) => ({
    low: value - (native.spread?.[i] ?? 0),
    high: value + (native.spread?.[i] ?? 0),
  }));
  const nativeMiddle = native?.months.map((value) => ({ low: value, high: value }));
  const ends = of.ribbons.flatMap((ribbon) =>
    (["high", "low"] as const).flatMap((edge) => {
      const value = edgeOn(ribbon.months, edge, 364);
      return value === null ? [] : [{ text: `${ribbon.name} ${edge}`, y: scale.y(value) }];
    }),
  );
  const heights = spread(
    ends.map(({ y }) => y),
    5.5,
  );
  return (
    <figure className={css.figure}>
      <Key of={of} native={native} hasGap={room.some(({ isGap }) => isGap)} />
      <div className={css.withEnds}>
        <YearDrawing
          scale={scale}
          decimals={of.decimals}
          today={today}
          label={`${of.label} by month with the ranges of ${of.ribbons.map(({ name }) => name).join(", ") || "no resident"}; the table below has the same data in numbers`}
          className={css.tall}
          marks={
            <>
              <Gaps range={range} of={of} scale={scale} />
              {of.water.map((_, month) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: twelve months in their order
                <MonthMark key={month} of={of} month={month} scale={scale} />
              ))}
            </>
          }
        >
          {room
            .filter(({ isGap, days }) => !isGap && days.length > 1)
            .map(({ days }) => (
              <polygon
                key={days[0]}
                className={css.common}
                points={cornersOf(range, days, scale).join(" ")}
              />
            ))}
          {nativeRange && native?.spread && (
            <polygon
              className={css.nativeSpread}
              points={cornersOf(
                nativeRange,
                [...Array(74).keys()].map((i) => i * 5),
                scale,
              ).join(" ")}
            />
          )}
          {nativeMiddle && <path className={css.nativeLine} d={edgePath(nativeMiddle, "low", scale)} />}
          {of.ribbons.map((ribbon, i) => (
            <path
              key={`${ribbon.species}/${ribbon.stage}`}
              className={css.edge}
              strokeDasharray={DASHES[i % DASHES.length]}
              d={`${edgePath(ribbon.months, "high", scale)}${edgePath(ribbon.months, "low", scale)}`}
            />
          ))}
        </YearDrawing>
        <div className={css.ends} aria-hidden="true">
          {ends.map(({ text }, i) => (
            <span key={text} style={{ top: `${heights[i]}%` }}>
              {text}
            </span>
          ))}
        </div>
      </div>
    </figure>
  );
}
