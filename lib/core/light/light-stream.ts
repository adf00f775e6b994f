/** Which stream stands for a quantity of a system's water, and which for its light. */

interface Candidate {
  readonly id: number;
  readonly quantity: string;
  readonly origin: string;
  readonly pointCode: string;
}

/** The display's probe, else what is computed there, else the first elsewhere; undefined where nothing measures it. */
export function streamFor<T extends Candidate>(streams: readonly T[], quantity: string): T | undefined {
  const rank = (stream: T) => (stream.pointCode === "display" ? 0 : 2) + (stream.origin === "probe" ? 0 : 1);
  return streams
    .filter(
      (stream) => stream.quantity === quantity && (stream.origin === "probe" || stream.origin === "derived"),
    )
    .sort((a, b) => rank(a) - rank(b) || a.id - b.id)[0];
}

/** One light sensor speaks for a system's light. */
export const lightStreamOf = <T extends Candidate>(streams: readonly T[]): T | undefined =>
  streamFor(streams, "illuminance") ?? streamFor(streams, "par");
