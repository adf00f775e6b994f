/** Cutting a file into pieces of text, the same way wherever it is read: a browser, a command. */
import type { ImportPlan } from "./plan.ts";

/** Bytes read at a time: some thousand rows, one commit. */
export const PIECE_BYTES = 131_072;

const LINE_FEED = 0x0a;
const RETURN = 0x0d;

/**
 * The text of a piece, ending with a whole line unless the file ends; null where the bytes are no text in this encoding. UTF-8 keeps its
 * mark at the beginning, so that characters can be counted back into bytes. A piece without a line end is given as it is.
 */
export function pieceText(
  bytes: Uint8Array,
  final: boolean,
  encoding: ImportPlan["encoding"],
): string | null {
  const end = final ? bytes.length : lineEnd(bytes);
  try {
    return new TextDecoder(encoding, { fatal: true, ignoreBOM: true }).decode(bytes.subarray(0, end));
  } catch (error) {
    if (error instanceof TypeError) return null;
    throw error;
  }
}

function lineEnd(bytes: Uint8Array): number {
  const feed = bytes.lastIndexOf(LINE_FEED);
  if (feed >= 0) return feed + 1;
  // The last one may be half of a pair.
  const back = bytes.subarray(0, -1).lastIndexOf(RETURN);
  return back >= 0 ? back + 1 : bytes.length;
}

const PRIME = 0x01000193;

/**
 * Tells one file from another: its size and a hash of its first bytes (after Fowler, Noll and Vo, in two lanes). Not for keeping
 * anybody out: only so that an import that was stopped goes on with the same file.
 */
export function fingerprintOf(first: Uint8Array, size: number): string {
  let [a, b] = [0x811c9dc5, 0x9747b28c];
  for (const byte of first) {
    a = Math.imul(a ^ byte, PRIME);
    b = Math.imul(b + byte, PRIME) ^ (b >>> 13);
  }
  const hex = (lane: number) => (lane >>> 0).toString(16).padStart(8, "0");
  return `${size}-${hex(a)}${hex(b)}`;
}
