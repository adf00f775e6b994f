import { randomBytes } from "node:crypto";
import type { Instant } from "#core/time/instant.ts";

/** UUIDv7: 48 bits of milliseconds, then random bits, so ids sort by when they were made. Source: RFC 9562 section 5.7. */
export function uuidV7(now: Instant, random: Uint8Array = randomBytes(10)): string {
  const bytes = new Uint8Array(16);
  new DataView(bytes.buffer).setBigUint64(0, BigInt(now) << 16n);
  bytes.set(random.subarray(0, 10), 6);
  bytes[6] = 0x70 | ((bytes[6] as number) & 0x0f);
  bytes[8] = 0x80 | ((bytes[8] as number) & 0x3f);
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [8, 12, 16, 20].reduceRight((text, cut) => `${text.slice(0, cut)}-${text.slice(cut)}`, hex);
}
