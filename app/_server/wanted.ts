/** Where the proxy writes which page was asked for, so that signing in can lead back to it. */
export const WANTED_HEADER = "x-homewater-wanted";
export const NONCE_HEADER = "x-nonce";

const FIRST = "/";

/** A path of this very site out of a query; anything else leads to the first page, so that no link here sends people elsewhere. */
export function ownPath(sent: unknown): string {
  if (typeof sent !== "string" || !sent.startsWith("/") || sent.length > 500) return FIRST;
  const base = "http://homewater.invalid";
  if (!URL.canParse(sent, base)) return FIRST;
  const { origin, pathname, search } = new URL(sent, base);
  return origin === base && !pathname.startsWith("//") ? `${pathname}${search}` : FIRST;
}
