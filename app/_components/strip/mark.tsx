import type { SeenAs } from "../words/standing-words.ts";
import css from "./strip.module.css";

/** Upright = in band, triangle = needs a look, diamond = needs action, dashed ring = not known or suspect. */
export function MarkShape({ seen, x, y }: { seen: SeenAs; x: number; y: number }) {
  if (seen === "action") return <path className={css.action} d={`M${x} ${y - 7}l7 7-7 7-7-7z`} />;
  if (seen === "look") return <path className={css.look} d={`M${x} ${y - 7}l7 12.5h-14z`} />;
  if (seen === "calm") return <path className={css.calm} d={`M${x} ${y - 8}v16`} />;
  return <circle className={css.doubtful} cx={x} cy={y} r={5} />;
}

/** The mark alone, beside a name or in a legend; the word stands next to it. */
export function Mark({ seen }: { seen: SeenAs }) {
  return (
    <svg className={css.mark} viewBox="0 0 20 20" aria-hidden="true">
      <MarkShape seen={seen} x={10} y={10} />
    </svg>
  );
}
