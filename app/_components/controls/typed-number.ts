/** A typed number; a comma is read as a point. Null where it is empty, undefined where it is no number. */
export function numberOf(text: string): number | null | undefined {
  const clean = text.trim().replace(",", ".").replace("−", "-");
  if (clean === "") return null;
  return /^-?(\d+(\.\d*)?|\.\d+)$/.test(clean) ? Number(clean) : undefined;
}
