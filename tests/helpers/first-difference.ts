/**
 * Where two plain values differ first, as a path with both values; null where they are equal. For results of tens of thousands of
 * rows, of which nobody wants to read a comparison in full.
 */
export function firstDifference(a: unknown, b: unknown, path = ""): string | null {
  if (Object.is(a, b)) return null;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null)
    return `${path}: ${show(a)} and ${show(b)}`;
  if (Array.isArray(a) !== Array.isArray(b)) return `${path}: ${show(a)} and ${show(b)}`;
  const [left, right] = [a as Record<string, unknown>, b as Record<string, unknown>];
  for (const key of new Set([...Object.keys(left), ...Object.keys(right)])) {
    const found = firstDifference(left[key], right[key], `${path}/${key}`);
    if (found !== null) return found;
  }
  return null;
}

const show = (value: unknown): string => (JSON.stringify(value) ?? String(value)).slice(0, 300);
