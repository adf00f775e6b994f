import type { AskedBand, CompositeMonthView, HabitatAnswer, StayView, WatchView } from "#contract/habitat.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { edgeText, rangeText } from "#core/units/number-text.ts";
import type { Change } from "./change.ts";

export const changeOf = (says: string, answer: HabitatAnswer): Change => ({
  says,
  answer: { change: answer.change, undoable: false, subject: answer.id, received: answer.received },
});

export const whoWords = (stay: Pick<StayView, "name" | "count" | "speciesName">): string =>
  stay.name === null ? `${stay.count} ${stay.speciesName}` : `${stay.name}, ${stay.speciesName}`;

const day = (at: number, clock: ZoneClock) => `${clock.day(at)} ${clock.year(at)}`;
export const dayWords = (at: number | null, clock: ZoneClock, none: string): string =>
  at === null ? none : day(at, clock);

type Edges = NonNullable<CompositeMonthView["kept"]>;
export const rangeWords = (edges: Edges | null, band: Pick<AskedBand, "decimals">): string =>
  edges === null ? "none" : rangeText(edges, band.decimals);
export function limitsWords(edges: Edges | null, band: Pick<AskedBand, "decimals">): string {
  if (edges === null || (edges.actionLow === null && edges.actionHigh === null)) return "no action limit";
  const words = (value: number | null) => (value === null ? "open" : edgeText(value, band.decimals));
  return `act at ${words(edges.actionLow)} / ${words(edges.actionHigh)}`;
}
export function edgeWords(edge: CompositeMonthView["low"], band: Pick<AskedBand, "decimals">): string {
  return edge === null
    ? "none"
    : `${edgeText(edge.value, band.decimals)}, ${edge.speciesName} (${edge.stage}): ${edge.source}, ${edge.mark}, confidence ${edge.confidence}`;
}

/** Where a watch stands, in words that never name a single day where only a window is known. */
export function watchWords(watch: WatchView, clock: ZoneClock): string {
  if (watch.stand === "ended")
    return `ended ${dayWords(watch.ended, clock, "")}: ${watch.outcome ?? "no outcome recorded"}`;
  const earliest = watch.narrowed?.earliest ?? watch.earliest;
  const latest = watch.narrowed?.latest ?? watch.latest;
  const window = `from ${dayWords(earliest, clock, "now on (first day not known)")}${latest === null ? `, no latest date: ${watch.unbounded ?? ""}` : ` to ${dayWords(latest, clock, "")}`}`;
  const stand = {
    before: "before its window",
    "in window": "in its window",
    overdue: "overdue",
    // Why there is no latest date is in the window.
    "not bounded": "in its window",
  }[watch.stand];
  return `${stand}, ${window}${watch.narrowed ? `, narrowed by ${watch.narrowed.by}: ${watch.narrowed.reason}` : ""}`;
}

const PROOFS = {
  cycled: { yes: "cycled", no: "not cycled", "not known": "not known whether it is cycled" },
  warm: {
    yes: "at temperature",
    no: "not at temperature",
    "not known": "not known whether it is at temperature",
  },
} as const;
/** "Pup pool Nursery: cycled, not at temperature. Total ammonia ..."; what to do where none is named. */
export function poolWords(pool: WatchView["pool"]): string {
  if (pool === null) return "No pup pool chosen: add one to the watch in Set-up.";
  const { name, cycled, atTemperature, says } = pool;
  return `Pup pool ${name}: ${PROOFS.cycled[cycled]}, ${PROOFS.warm[atTemperature]}. ${says.join(". ")}.`;
}
