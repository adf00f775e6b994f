import { randomBytes } from "node:crypto";
import { type NextRequest, NextResponse } from "next/server";
import { NONCE_HEADER, WANTED_HEADER } from "#app/_server/wanted.ts";

/**
 * What a page may load: its own files and scripts that carry this answer's nonce. Styles may stand in attributes, because charts and strips
 * are placed by them. Source: W3C Content Security Policy Level 3; OWASP ASVS 5.0.0 3.4.3, 3.4.6.
 */
function policy(nonce: string): string {
  return [
    "default-src 'self'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'`,
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "worker-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join("; ");
}

/** Decides nothing: each page and each handler asks who is there itself. It only says which page was asked for, and gives scripts a nonce. */
export function proxy(request: NextRequest): NextResponse {
  const nonce = randomBytes(16).toString("base64");
  const headers = new Headers(request.headers);
  headers.set(WANTED_HEADER, `${request.nextUrl.pathname}${request.nextUrl.search}`);
  headers.set(NONCE_HEADER, nonce);
  // Next reads the nonce of its own scripts out of the policy on the request.
  headers.set("content-security-policy", policy(nonce));
  const response = NextResponse.next({ request: { headers } });
  response.headers.set("content-security-policy", policy(nonce));
  return response;
}

export const config = { matcher: "/((?!api/|_next/|icon.svg).*)" };
