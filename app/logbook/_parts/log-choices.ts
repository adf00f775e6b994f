import type { LogKindId } from "#core/logbook/kinds.ts";
import { durationText } from "#core/time/duration-text.ts";

/** A kind of log entry as the form offers it. */
export interface LogChoice {
  readonly id: LogKindId;
  readonly label: string;
  readonly lasts: boolean;
  readonly capMinutes: number;
  /** What is quiet meanwhile: "flow, turbidity"; empty where nothing is. */
  readonly quiet: string;
  /** It is about one probe or pump, which has to be named before anything is quiet. */
  readonly isOfOne: boolean;
}

/** What choosing this kind does to alarms, in one sentence, before it is saved. */
export function effectWords(kind: LogChoice): string {
  if (kind.quiet === "" && !kind.isOfOne) return "Mutes no alarms.";
  const what = kind.isOfOne ? "the probe or pump named here" : kind.quiet;
  const most = durationText(kind.capMinutes * 60_000);
  return `Mutes alarms for at most ${most}: ${what}. Level, leaks and the action limits of oxygen and temperature are never muted.`;
}

/** Units that usually stand beside an amount of this kind. */
export const USUAL_UNITS: Readonly<Partial<Record<LogKindId, readonly string[]>>> = {
  "water-change": ["%", "L", "m3"],
  feed: ["g", "kg"],
  dosing: ["mL", "L", "g", "kg"],
  treatment: ["mg/L", "g", "mL"],
  backwash: ["min"],
  "set-point": ["°C", "mV", "%"],
};

/** Ranges of the list, by their name in the address. */
export const LOG_RANGES = [
  { id: "1d", label: "24 hours", days: 1 },
  { id: "3d", label: "3 days", days: 3 },
  { id: "2w", label: "2 weeks", days: 14 },
  { id: "3m", label: "3 months", days: 92 },
  { id: "1y", label: "1 year", days: 366 },
] as const;
export type LogRangeId = (typeof LOG_RANGES)[number]["id"];
const USUAL_LOG_RANGE: LogRangeId = "3d";

/** What the address asks for; anything unknown means the default. */
export interface LogFilter {
  readonly system: string;
  readonly kind: string;
  readonly range: LogRangeId;
}

export function filterOf(search: Readonly<Record<string, string | string[] | undefined>>): LogFilter {
  const text = (key: string) => (typeof search[key] === "string" ? search[key] : "");
  const range = LOG_RANGES.find(({ id }) => id === text("range"))?.id ?? USUAL_LOG_RANGE;
  return { system: text("system"), kind: text("kind"), range };
}

const DAY = 86_400_000;
/** The same filter as a question to the API. */
export function logQueryOf(filter: LogFilter, now: number) {
  const days = LOG_RANGES.find(({ id }) => id === filter.range)?.days ?? 3;
  return {
    from: now - days * DAY,
    to: now + DAY,
    ...(filter.system === "" ? {} : { systems: filter.system }),
    ...(filter.kind === "" ? {} : { kinds: filter.kind }),
    limit: 500,
  };
}
