import { numberText } from "./number-text.ts";

const UNITS = ["B", "KiB", "MiB", "GiB", "TiB"];

/** A size in the largest unit that leaves at least one: "1.4 GiB", "512 MiB", "17 B" (IEC 80000-13). */
export function bytesText(bytes: number): string {
  const step = Math.min(UNITS.length - 1, Math.floor(Math.log2(Math.max(1, bytes)) / 10));
  const value = bytes / 1024 ** step;
  return `${numberText(value, value >= 100 || step === 0 ? 0 : 1)} ${UNITS[step]}`;
}
