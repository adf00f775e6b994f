import css from "#app/_components/controls/forms.module.css";
import { Strip } from "#app/_components/strip/strip.tsx";
import { StripEdges } from "#app/_components/strip/strip-edges.tsx";
import { pointWords } from "#app/_components/words/point-words.ts";
import { SEEN_WORD, seenAs } from "#app/_components/words/standing-words.ts";
import type { Standing, StreamState } from "#contract/views.ts";
import { type BandEdges, edgesAt } from "#core/habitat/band.ts";
import { deviation } from "#core/habitat/deviation.ts";
import { withUnit } from "#core/units/number-text.ts";

/** How a stream would stand with other edges, by the water alone: findings and their delays come later. */
export function withBand(stream: StreamState, edges: BandEdges): StreamState {
  if (stream.value === null || stream.silent || stream.flag >= 3) return { ...stream, band: edges };
  const far = deviation(stream.value, edges);
  const standing: Standing = far === null || far === 0 ? "calm" : Math.abs(far) >= 1 ? "action" : "look";
  return { ...stream, band: edges, deviation: far, standing };
}

/** What a change would do now: each stream it reaches, before and after, on the strip and in words. */
export function BandPreview({
  streams,
  months,
  now,
  zone,
}: {
  readonly streams: readonly StreamState[];
  /** Null while what is typed is not sound. */
  readonly months: readonly BandEdges[] | null;
  readonly now: number;
  readonly zone: string;
}) {
  if (streams.length === 0)
    return <p className={css.soft}>Nothing is measured there yet. The band applies once readings arrive.</p>;
  const edges = months === null ? null : edgesAt(months, now, zone);
  return (
    <ul className={css.preview} aria-label="What would change now">
      {streams.map((stream) => {
        const after = edges === null ? null : withBand(stream, edges);
        const value =
          stream.value === null ? "not known" : withUnit(stream.value, stream.decimals, stream.unitLabel);
        const [was, will] = [seenAs(stream), after === null ? null : seenAs(after)];
        return (
          <li key={stream.stream} data-preview={will ?? ""}>
            <span>
              {pointWords(stream.point)} {stream.origin === "probe" ? "" : `${stream.origin} `}
              <b>{value}</b>
            </span>
            <span>
              <small>now{stream.band === null ? ": no band" : `: ${SEEN_WORD[was]}`}</small>
              <Strip stream={stream} />
              <StripEdges stream={stream} limits={false} />
            </span>
            {after !== null && will !== null && (
              <span>
                <small>
                  then: <b className={css[will]}>{SEEN_WORD[will]}</b>
                </small>
                <Strip stream={after} />
                <StripEdges stream={after} limits={false} />
              </span>
            )}
          </li>
        );
      })}
    </ul>
  );
}
