import { numberOf } from "#app/_components/controls/typed-number.ts";
import { type BandEdges, faultsAt } from "#core/habitat/band.ts";
import { edgeText } from "#core/units/number-text.ts";

export const EDGES = ["urgentLow", "actionLow", "low", "high", "actionHigh", "urgentHigh"] as const;
export type Edge = (typeof EDGES)[number];
export const EDGE_LABEL: Readonly<Record<Edge, string>> = {
  urgentLow: "Urgent below",
  actionLow: "Action below",
  low: "Target from",
  high: "Target to",
  actionHigh: "Action above",
  urgentHigh: "Urgent above",
};

/** Edges as typed; empty is open. */
export type Typed = Readonly<Record<Edge, string>>;
export const NOTHING: Typed = {
  urgentLow: "",
  actionLow: "",
  low: "",
  high: "",
  actionHigh: "",
  urgentHigh: "",
};

const plain = (value: number | null, decimals: number): string => {
  if (value === null) return "";
  const fixed = edgeText(value, decimals).replace("−", "-");
  // Values set more precisely than shown must not be rounded by opening a form.
  return Number(fixed) === value ? fixed : String(value);
};

export function typedOf(edges: BandEdges, decimals: number): Typed {
  return Object.fromEntries(EDGES.map((edge) => [edge, plain(edges[edge], decimals)])) as Record<
    Edge,
    string
  >;
}

/** One month as typed: its edges where every field is a number, and what is wrong at which field. */
export function readTyped(typed: Typed): {
  readonly edges: BandEdges | null;
  readonly wrong: Readonly<Partial<Record<Edge, string>>>;
} {
  const wrong: Partial<Record<Edge, string>> = {};
  const edges: Record<Edge, number | null> = { ...NO_NUMBERS };
  for (const edge of EDGES) {
    const value = numberOf(typed[edge]);
    if (value === undefined) wrong[edge] = "not a number";
    else edges[edge] = value;
  }
  if (Object.keys(wrong).length > 0) return { edges: null, wrong };
  for (const { edge, says } of faultsAt(edges)) wrong[edge] ??= says;
  if (EDGES.every((edge) => edges[edge] === null)) wrong.low = "a band needs at least one edge";
  return { edges, wrong };
}
const NO_NUMBERS: Record<Edge, null> = {
  urgentLow: null,
  actionLow: null,
  low: null,
  high: null,
  actionHigh: null,
  urgentHigh: null,
};
