import type { Instant } from "../time/instant.ts";

/** A course a quantity is meant to follow, in its own unit. */
export type PlanShape =
  | {
      readonly kind: "tide";
      readonly mean: number;
      readonly amplitude: number;
      readonly periodMs: number;
      readonly highAt: Instant;
    }
  | { readonly kind: "points"; readonly points: readonly (readonly [Instant, number])[] };

/** Where the plan says the quantity should be; points run linearly and hold at both ends. NaN for a plan without points. */
export function planAt(shape: PlanShape, at: Instant): number {
  if (shape.kind === "tide")
    return shape.mean + shape.amplitude * Math.cos((2 * Math.PI * (at - shape.highAt)) / shape.periodMs);
  const { points } = shape;
  const first = points[0];
  const last = points[points.length - 1];
  if (!first || !last) return Number.NaN;
  if (at <= first[0]) return first[1];
  for (let i = 1; i < points.length; i++) {
    const [end, to] = points[i] as readonly [Instant, number];
    if (at > end) continue;
    const [start, from] = points[i - 1] as readonly [Instant, number];
    return from + ((to - from) * (at - start)) / (end - start);
  }
  return last[1];
}
