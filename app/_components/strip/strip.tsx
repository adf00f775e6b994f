import type { StreamState } from "#contract/views.ts";
import { classes } from "../controls/classes.ts";
import { seenAs } from "../words/standing-words.ts";
import { stripSentence } from "../words/stream-words.ts";
import { MarkShape } from "./mark.tsx";
import css from "./strip.module.css";
import {
  floorOf,
  isBeyond,
  placeOf,
  STRIP,
  type StripScale,
  stripScale,
  TAIL_HOURS,
} from "./strip-geometry.ts";

const MIDDLE = STRIP.height / 2;

function Rails({ scale, known }: { scale: StripScale; known: boolean }) {
  const [first, last] = [placeOf(-1), placeOf(1)];
  const [from, to] = [placeOf(scale.from), placeOf(scale.to)];
  const solid: string[] = [];
  const dotted: string[] = [];
  if (scale.lowEnd !== "floor")
    (scale.lowEnd === "open" ? dotted : solid).push(`M${first} ${MIDDLE}H${from}`);
  if (scale.highEnd !== "band") (scale.highEnd === "open" ? dotted : solid).push(`M${to} ${MIDDLE}H${last}`);
  if (scale.lowEnd === "limit") solid.push(`M${first} 4.5V17.5`);
  if (scale.highEnd === "limit") solid.push(`M${last} 4.5V17.5`);
  const edges = [`M${from} 5.5V16.5`];
  if (scale.highEnd !== "band") edges.push(`M${to} 5.5V16.5`);
  return (
    <>
      <rect className={known ? css.band : css.unknownBand} x={from} y={5.5} width={to - from} height={11} />
      {known && <path className={css.edge} d={edges.join("")} />}
      {solid.length > 0 && <path className={css.limit} d={solid.join("")} />}
      {dotted.length > 0 && <path className={css.open} d={dotted.join("")} />}
    </>
  );
}

function Tail({ from, to, tone }: { from: number; to: number; tone: string | undefined }) {
  if (Math.abs(to - from) < 5) return null;
  const way = Math.sign(to - from);
  const tip = Math.max(3, Math.min(STRIP.width - 3, from + way * Math.max(Math.abs(to - from), 13)));
  return (
    <path
      className={classes(css.tail, tone)}
      d={`M${from} ${MIDDLE}H${tip}m${-way * 4} -3.6l${way * 4} 3.6 ${-way * 4} 3.6`}
    />
  );
}

/**
 * One quantity on the common scale: target band, action limits, the sweep since 18:00, now, direction and plan.
 * `beside` is a second point of the same quantity (contact chamber), drawn hollow on its own band's scale.
 */
export function Strip({ stream, beside }: { stream: StreamState; beside?: StreamState | undefined }) {
  const seen = seenAs(stream);
  const scale = stream.band === null ? null : stripScale(stream.band, floorOf(stream.quantity));
  if (scale === null) return null;
  const at = (value: number) => scale.position(value);
  const shown = stream.value !== null && seen !== "unknown" ? stream.value : null;
  const tone = css[`tone-${seen}`];
  const { sweepLow, sweepHigh, plan, rate } = stream;
  const here = shown === null ? 0 : at(shown);
  const x = placeOf(here);
  const other =
    beside?.band && beside.value !== null ? stripScale(beside.band, floorOf(beside.quantity)) : null;
  return (
    <svg
      className={css.strip}
      viewBox={`0 0 ${STRIP.width} ${STRIP.height}`}
      role="img"
      aria-label={stripSentence(stream)}
    >
      <Rails scale={scale} known={seen !== "unknown"} />
      {shown !== null && sweepLow !== null && sweepHigh !== null && (
        <path
          className={classes(css.sweep, tone)}
          d={`M${placeOf(at(sweepLow))} ${MIDDLE}H${placeOf(at(sweepHigh)) + 0.1}`}
        />
      )}
      {plan !== null && <path className={css.plan} d={`M${placeOf(at(plan)) - 4.5} 2h9`} />}
      {other !== null && beside?.value != null && (
        <rect
          className={css.beside}
          x={placeOf(other.position(beside.value)) - 2.5}
          y={5}
          width={5}
          height={12}
          rx={1}
        />
      )}
      {shown !== null && rate !== null && seen !== "doubtful" && (
        <Tail from={x} to={placeOf(at(shown + rate * TAIL_HOURS))} tone={tone} />
      )}
      {shown !== null && <MarkShape seen={seen} x={x} y={MIDDLE} />}
      {shown !== null && isBeyond(here) && (
        <path
          className={classes(css.beyond, tone)}
          d={here > 0 ? `M${x + 8.5} 7.5l3.5 3.5-3.5 3.5` : `M${x - 8.5} 7.5l-3.5 3.5 3.5 3.5`}
        />
      )}
    </svg>
  );
}
