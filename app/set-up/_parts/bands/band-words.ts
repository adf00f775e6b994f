import type { BandView } from "#contract/set-up-forms.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { edgeText, rangeText } from "#core/units/number-text.ts";

type Edge = number | null;

function beyond(word: string, low: Edge, high: Edge, decimals: number): string {
  const said = [
    low === null ? "" : `below ${edgeText(low, decimals)}`,
    high === null ? "" : `above ${edgeText(high, decimals)}`,
  ];
  const sides = said.filter((side) => side !== "").join(" and ");
  return sides === "" ? "" : `${word} ${sides}`;
}

/** "7.80 to 8.20", "at most 0.010"; monthly edges are only named. */
export function targetWords({ months, decimals }: BandView): string {
  const [edges] = months;
  if (months.length > 1 || edges === undefined) return "month by month";
  return edges.low === null && edges.high === null ? "no target" : rangeText(edges, decimals);
}

/** "action below 7.60 and above 8.40; urgent above 8.60", or that there is no limit. */
export function limitWords({ months, decimals }: BandView): string {
  const edges: BandEdges | undefined = months.length === 1 ? months[0] : undefined;
  if (edges === undefined) return "";
  const said = [
    beyond("action", edges.actionLow, edges.actionHigh, decimals),
    beyond("urgent", edges.urgentLow, edges.urgentHigh, decimals),
  ].filter((words) => words !== "");
  return said.length === 0 ? "no limits" : said.join("; ");
}

/** Bands from the first set-up that apply to all time begin before any reading. */
const LONG_AGO = Date.UTC(2000, 0, 1);
export const fromWords = (band: BandView, clock: ZoneClock): string =>
  band.validFrom < LONG_AGO
    ? "from the start"
    : `from ${clock.day(band.validFrom)} ${clock.year(band.validFrom)}`;
