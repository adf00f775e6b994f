/** What kind of water a system holds. A person sets it; it chooses equations, so a chart never changes equation by itself. */
export type Water = "fresh" | "brackish" | "marine";

/** IPTS-68 from ITS-90, both in °C: PSS-78 and EOS-80 were fitted on the older scale. Source: Saunders 1990. */
export const T68_PER_T90 = 1.00024;
export const KELVIN = 273.15;

/**
 * The class to assume where nobody has set one: fresh below S 1, brackish below S 19, marine from there.
 * A convention of this project: 19 is where the sea-water constants of Lueker et al. 2000 begin.
 */
export function waterFromSalinity(s: number): Water {
  if (s < 1) return "fresh";
  return s < 19 ? "brackish" : "marine";
}
