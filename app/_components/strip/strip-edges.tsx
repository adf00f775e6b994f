import type { StreamState } from "#contract/views.ts";
import { edgeText } from "#core/units/number-text.ts";
import css from "./strip.module.css";
import { floorOf, placeOf, STRIP, stripScale } from "./strip-geometry.ts";

/** The numbers of a strip, under it: edges of the band where they lie, and the limits in words. The strip's own sentence says them aloud. */
export function StripEdges({ stream, limits }: { readonly stream: StreamState; readonly limits: boolean }) {
  const { band, decimals } = stream;
  const floor = floorOf(stream.quantity);
  const scale = band === null ? null : stripScale(band, floor);
  if (band === null || scale === null) return null;
  const low = scale.lowEnd === "floor" ? (band.low ?? floor) : band.low;
  const high = scale.highEnd === "band" ? null : band.high;
  const place = (position: number) => `${Math.round((placeOf(position) / STRIP.width) * 1000) / 10}%`;
  const ends = [band.actionLow, band.actionHigh].filter((v) => v !== null).map((v) => edgeText(v, decimals));
  return (
    <div className={css.edges} aria-hidden="true">
      <p>
        {low !== null && (
          <span style={{ left: place(scale.from) }}>
            {low === floor && band.low === null ? floor : edgeText(low, decimals)}
          </span>
        )}
        {high !== null && <span style={{ left: place(scale.to) }}>{edgeText(high, decimals)}</span>}
      </p>
      {limits && <small>{ends.length === 0 ? "no limit" : `act at ${ends.join(", ")}`}</small>}
    </div>
  );
}
