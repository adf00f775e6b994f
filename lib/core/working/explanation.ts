/** One number on the way to a result, with the unit it is in as people write it. */
export interface Step {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
}
/** What one input's uncertainty adds to the result's. */
export interface UncertaintyPart {
  readonly name: string;
  /** Standard uncertainty of the input, in words with its unit. */
  readonly of: string;
  /** What it makes of the result: standard uncertainty in the result's unit, or in percent of the result where `isRelative`. */
  readonly adds: number;
  readonly isRelative: boolean;
}
/** How a value was calculated: what every explained equation gives. */
export interface Explanation {
  /** The relation itself, a line each, in plain characters. */
  readonly expression: readonly string[];
  /** Where it holds. */
  readonly range: string;
  /** The paper or standard that defines it. */
  readonly source: string;
  readonly steps: readonly Step[];
  readonly uncertainty: readonly UncertaintyPart[];
}

export const step = (name: string, value: number, unit = ""): Step => ({ name, value, unit });

/** Parts that could be computed; one that could not is left out rather than shown as none. */
export function parts(
  isRelative: boolean,
  rows: readonly (readonly [name: string, of: string, adds: number | null])[],
): UncertaintyPart[] {
  return rows.flatMap(([name, of, adds]) =>
    adds === null || adds === 0 ? [] : [{ name, of, adds: isRelative ? 100 * adds : adds, isRelative }],
  );
}
