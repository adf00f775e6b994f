/** The instants at which another band comes into force: what was read last is judged again there, without waiting for the next reading. */
import { sameMonths } from "../habitat/index.ts";
import { turnsOf } from "../time/in-force.ts";
import type { Instant } from "../time/instant.ts";
import { bandInForce } from "./judge-band.ts";
import type { StreamSettings } from "./settings.ts";

export interface BandChange {
  readonly at: Instant;
  readonly stream: StreamSettings;
}
const NONE: readonly BandChange[] = [];

function bandChangesOf(stream: StreamSettings): BandChange[] {
  return [...new Set(turnsOf(stream.bands))]
    .filter((at) => {
      const before = bandInForce(stream, at - 1);
      const after = bandInForce(stream, at);
      return !sameMonths(before?.months ?? [], after?.months ?? []);
    })
    .map((at) => ({ at, stream }));
}

/**
 * A function that gives the turns in (after, upTo], in the order in which readings of one instant are judged. It remembers between which
 * turns it was asked last, because it is asked for every reading and almost always answers with none.
 */
export function bandChangeWalker(
  streams: readonly StreamSettings[],
): (after: Instant, upTo: Instant) => readonly BandChange[] {
  const turns = streams
    .flatMap(bandChangesOf)
    .sort((a, b) => a.at - b.at || a.stream.rank - b.stream.rank || a.stream.id - b.stream.id);
  let from = Number.POSITIVE_INFINITY;
  let next = Number.NEGATIVE_INFINITY;
  return (after, upTo) => {
    if (after >= from && upTo < next) return NONE;
    const first = turns.findIndex((turn) => turn.at > after);
    from =
      first > 0
        ? (turns[first - 1] as BandChange).at
        : first < 0
          ? (turns.at(-1)?.at ?? Number.NEGATIVE_INFINITY)
          : Number.NEGATIVE_INFINITY;
    next = first < 0 ? Number.POSITIVE_INFINITY : (turns[first] as BandChange).at;
    if (first < 0 || upTo < next) return NONE;
    return turns.slice(first).filter((turn) => turn.at <= upTo);
  };
}
