/** What is judged while residents have no range in common and nobody has signed a compromise: only what harms. */
import type { ResidentRange } from "./band.ts";
import type { Stage } from "./profile.ts";

interface Origin {
  readonly value: number;
  readonly species: string;
  readonly stage: Stage;
}
interface Claim {
  readonly low: Origin | null;
  readonly high: Origin | null;
}
/** Units are the quantity's own. */
export interface Meanwhile {
  /** The highest low and the lowest high that somebody asks for: the first lies at or above the second. */
  readonly asksLow: number;
  readonly asksHigh: number;
  /** Limits that ring; null where none is known or it would drive the water into the harm of a more sensitive stage. */
  readonly actionLow: number | null;
  readonly actionHigh: number | null;
  /** What each species and stage asks for, as rows for words. */
  readonly ranges: readonly ResidentRange[];
}

/** Young animals bear the least; what breeds or carries comes next. Common practice, no source. */
const SENSITIVITY: Readonly<Partial<Record<Stage, number>>> = {
  "egg or larva": 0,
  "pup or juvenile": 1,
  ephyra: 1,
  gestating: 2,
  breeding: 2,
};
const toughness = (stage: Stage): number => SENSITIVITY[stage] ?? 3;

const lowest = (values: readonly number[]) => (values.length === 0 ? null : Math.min(...values));
const highest = (values: readonly number[]) => (values.length === 0 ? null : Math.max(...values));
const valuesOf = (claims: readonly Claim[], side: "low" | "high") =>
  claims.flatMap((claim) => claim[side]?.value ?? []);

export function rangesOf(claims: readonly Claim[]): ResidentRange[] {
  return claims.flatMap(({ low, high }) => {
    const who = low ?? high;
    return who
      ? [{ species: who.species, stage: who.stage, low: low?.value ?? null, high: high?.value ?? null }]
      : [];
  });
}

/**
 * Limits of a month without a common range. Each side rings where the animals that bear the least on it come to harm. Where these limits cross,
 * no water is free of both: then the more sensitive stage has both limits of its own and the other animals none inside them; between
 * equals only water that is past the limit of everybody rings. `limitAt`: the limit beyond an edge on a side, null where none is known.
 */
export function meanwhileIn(
  claims: readonly Claim[],
  { low, high }: { readonly low: Origin; readonly high: Origin },
  limitAt: (side: "low" | "high", edge: number | null) => number | null,
): Meanwhile {
  const base = { asksLow: low.value, asksHigh: high.value, ranges: rangesOf(claims) };
  const [actionLow, actionHigh] = [limitAt("low", low.value), limitAt("high", high.value)];
  if (actionLow === null || actionHigh === null || actionLow < actionHigh)
    return { ...base, actionLow, actionHigh };
  const [ofLow, ofHigh] = [toughness(low.stage), toughness(high.stage)];
  if (ofLow === ofHigh)
    return {
      ...base,
      actionLow: limitAt("low", lowest(valuesOf(claims, "low"))),
      actionHigh: limitAt("high", highest(valuesOf(claims, "high"))),
    };
  const sensitive = claims.filter(
    (claim) => toughness((claim.low ?? claim.high ?? low).stage) === Math.min(ofLow, ofHigh),
  );
  return {
    ...base,
    actionLow: limitAt("low", highest(valuesOf(sensitive, "low"))),
    actionHigh: limitAt("high", lowest(valuesOf(sensitive, "high"))),
  };
}
