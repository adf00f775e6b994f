/** Repeatable noise: a hash of (seed, instant), so that any instant can be computed alone and in any order. */

/** A 32-bit seed from a text (FNV-1a, Fowler, Noll and Vo). */
export function seedOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash | 0;
}

/** A 32-bit mix of seed and number; the finaliser is that of MurmurHash3 (Appleby, public domain). */
function mix(seed: number, n: number): number {
  let h = seed ^ Math.imul(n, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}

const PER_UNIT = 1 / 0x80000000;

/** Uniform in [-1, 1) from seed and a whole number. */
export const uniform = (seed: number, n: number): number => mix(seed, n) * PER_UNIT;

/** Noise of mean 0 and standard deviation 1, never beyond 3: the sum of three uniforms. */
export function bell(seed: number, atMs: number): number {
  const n = Math.floor(atMs / 1000) ^ Math.imul(atMs % 1000, 0x27d4eb2f);
  const a = mix(seed, n);
  const b = mix(a, 0x51ed270b);
  return (a + b + mix(b, 0x2545f491)) * PER_UNIT;
}

/** Slow wander in [-1, 1]: random knots every `spanMs`, smoothed between (cubic smooth step). */
export function wander(seed: number, atMs: number, spanMs: number): number {
  const x = atMs / spanMs;
  const knot = Math.floor(x);
  const u = x - knot;
  const from = uniform(seed, knot);
  return from + (uniform(seed, knot + 1) - from) * u * u * (3 - 2 * u);
}
