/** How a system or a stream stands, worst first; "unknown" is worse than calm, because nobody can be calm about it. */
export const STANDINGS = ["action", "look", "unknown", "calm"] as const;
export type Standing = (typeof STANDINGS)[number];

/** 0 is worst. */
export const rankOf = (standing: Standing): number => STANDINGS.indexOf(standing);

interface Placed {
  readonly standing: Standing;
  /** Its greatest deviation, 1 at the action limit; null where none is known. */
  readonly worst: number | null;
  /** m³ */
  readonly volume: number;
  readonly name: string;
}

/** The one order of systems: standing, then the greatest deviation to either side, then volume, then name. */
export function worstFirst(a: Placed, b: Placed): number {
  return (
    rankOf(a.standing) - rankOf(b.standing) ||
    Math.abs(b.worst ?? 0) - Math.abs(a.worst ?? 0) ||
    b.volume - a.volume ||
    a.name.localeCompare(b.name, "en")
  );
}
