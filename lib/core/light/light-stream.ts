/** Which stream stands for a quantity of a system's water, and which for its light. */

import { distanceFrom, nearestFirst, type PointRole } from "../set-up/point-role.ts";

interface Candidate {
  readonly id: number;
  readonly quantity: string;
  readonly origin: string;
  readonly pointCode: string;
  readonly pointRole: PointRole;
}

/** The exhibit's probe, else what is computed there, else the first elsewhere; undefined where nothing measures it. */
export function streamFor<T extends Candidate>(streams: readonly T[], quantity: string): T | undefined {
  const measured = streams.filter(
    (stream) => stream.quantity === quantity && (stream.origin === "probe" || stream.origin === "derived"),
  );
  const rank = (stream: T) => 2 * distanceFrom(null, stream) + (stream.origin === "probe" ? 0 : 1);
  return nearestFirst(null, measured).sort((a, b) => rank(a) - rank(b))[0];
}

/** One light sensor speaks for a system's light. */
export const lightStreamOf = <T extends Candidate>(streams: readonly T[]): T | undefined =>
  streamFor(streams, "illuminance") ?? streamFor(streams, "par");
