/** How far each argument is moved either way to find how strongly the result answers to it. */
export interface Moved {
  readonly value: number;
  /** Standard uncertainty of the argument, in its own unit; 0 leaves it out. */
  readonly u: number;
  readonly step: number;
}

/**
 * Standard uncertainty of `f` from those of its arguments, taken as independent, first order, by central difference quotients. In the
 * unit of `f`; not a number where `f` is none beside the point. Nothing is checked. Source: GUM (JCGM 100:2008), clause 5.1.2.
 */
export function firstOrderNumber(
  f: (x: readonly number[]) => number,
  args: readonly Moved[],
  own: number,
): number {
  const x = args.map((arg) => arg.value);
  let sum = own * own;
  for (let i = 0; i < args.length; i++) {
    const { value, u, step } = args[i] as Moved;
    if (u === 0) continue;
    x[i] = value + step;
    const above = f(x);
    x[i] = value - step;
    const below = f(x);
    x[i] = value;
    const part = ((above - below) / (2 * step)) * u;
    sum += part * part;
  }
  return Math.sqrt(sum);
}
