import { DAY, HOUR, type Instant } from "../time/instant.ts";

/** How many backups are kept: the newest ones whatever their age, then one an hour, then one a day (UTC). */
export interface Rotation {
  readonly newest: number;
  readonly hours: number;
  readonly days: number;
}

/**
 * Of backups made at these instants, those to keep: the `newest` last ones, and the last of each of the latest `hours` hours and `days` days
 * that have one. The newest is always kept. Source: our own rule, after the usual tiers of daily and weekly copies (common practice, no source).
 */
export function keptBackups(made: readonly Instant[], rotation: Rotation): ReadonlySet<Instant> {
  const sorted = [...made].sort((a, b) => b - a);
  const kept = new Set(sorted.slice(0, Math.max(1, rotation.newest)));
  for (const [width, count] of [
    [HOUR, rotation.hours],
    [DAY, rotation.days],
  ] as const) {
    const spans = new Set<number>();
    for (const at of sorted) {
      const span = Math.floor(at / width);
      if (spans.has(span) || spans.size >= count) continue;
      spans.add(span);
      kept.add(at);
    }
  }
  return kept;
}

const NAME = /^homewater-(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)Z\.(?:db|dump)$/;

/** The name of a backup: the second it was begun, UTC. */
export const backupName = (at: Instant, kind: "db" | "dump"): string =>
  `homewater-${new Date(at).toISOString().slice(0, 19).replace(/[-:]/g, "")}Z.${kind}`;

/** The instant in a backup's name, null for any other name. */
export function backupInstant(name: string): Instant | null {
  const found = NAME.exec(name);
  if (found === null) return null;
  const [, year, month, day, hour, minute, second] = found.map(Number) as unknown as number[];
  return Date.UTC(year as number, (month as number) - 1, day, hour, minute, second);
}
