import type { Span } from "#app/_components/drawing/chart-data.ts";
import { type RangeId, rangeOf } from "../chart/chart-window.ts";

/** What a chart is compared with: nothing, the same days a year before, or another system by its short name. */
export type Compare =
  | { readonly with: "nothing" }
  | { readonly with: "year" }
  | { readonly with: "system"; readonly system: string };

/** What the address of a System page says about its charts. */
export interface TrendAddress {
  readonly range: RangeId;
  /** A window of its own; null follows the present. */
  readonly window: Span | null;
  readonly compare: Compare;
}

type Search = Readonly<Record<string, string | readonly string[] | undefined>>;
const SHORTEST = 60_000;

function instantOf(text: string): number | null {
  if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d)?Z$/.test(text)) return null;
  const at = Date.parse(text);
  return Number.isNaN(at) ? null : at;
}

function compareOf(text: string): Compare {
  if (text === "last-year") return { with: "year" };
  return /^[a-z0-9][a-z0-9-]{0,79}$/.test(text) ? { with: "system", system: text } : { with: "nothing" };
}

/** Reads an address; what is not understood is as if it were not there, so that an old link still opens. */
export function readAddress(search: Search): TrendAddress {
  const one = (name: string): string => {
    const value = search[name];
    return typeof value === "string" ? value : "";
  };
  const [from, to] = [instantOf(one("from")), instantOf(one("to"))];
  return {
    range: rangeOf(one("range")).id,
    window: from !== null && to !== null && to - from >= SHORTEST ? { from, to } : null,
    compare: compareOf(one("compare")),
  };
}

const textOf = (at: number): string =>
  `${new Date(Math.round(at / 1000) * 1000).toISOString().slice(0, 19)}Z`;

/** The query of an address, beginning with "?"; what is usual is left out, the range is always said. */
export function writeAddress({ range, window, compare }: TrendAddress): string {
  const query = new URLSearchParams({ range });
  if (window !== null) {
    query.set("from", textOf(window.from));
    query.set("to", textOf(window.to));
  }
  if (compare.with === "year") query.set("compare", "last-year");
  if (compare.with === "system") query.set("compare", compare.system);
  return `?${query.toString().replaceAll("%3A", ":")}`;
}

/** How far back the same days of the year before lie: their date a year earlier, so 365 or 366 days. */
export function yearBefore(at: number): number {
  const date = new Date(at);
  date.setUTCFullYear(date.getUTCFullYear() - 1);
  return at - date.getTime();
}
