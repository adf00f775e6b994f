/**
 * An id that is the same at each retry, so that the server stores a test once. `randomUUID` exists only on https and localhost; a phone on
 * a plain http address of the house has `getRandomValues`. Form of RFC 9562, version 4.
 */
export function newClientId(source: Pick<Crypto, "getRandomValues"> & Partial<Crypto> = crypto): string {
  if (typeof source.randomUUID === "function") return source.randomUUID();
  const bytes = source.getRandomValues(new Uint8Array(16));
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [8, 12, 16, 20].reduceRight((text, cut) => `${text.slice(0, cut)}-${text.slice(cut)}`, hex);
}
