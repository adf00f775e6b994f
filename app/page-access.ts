import "server-only";
import { headers } from "next/headers";
import { AppError } from "../lib/services/errors.ts";
import { type AppDeps, appDeps } from "./_server/deps.ts";
import { guard, Unauthorised } from "./_server/guard.ts";

export type PageAccess =
  | { readonly may: true; readonly deps: AppDeps }
  | { readonly may: false; readonly why: string };

/**
 * Whether this page may be shown to whoever asks: the rule of the API. Only Host and Authorization count, because a
 * person may come here by a link from anywhere; a page is only shown, and never inside another site's frame.
 */
export async function pageAccess(): Promise<PageAccess> {
  const [deps, asked] = await Promise.all([appDeps(), headers()]);
  const counted = new Headers();
  for (const name of ["host", "authorization"]) {
    const value = asked.get(name);
    if (value !== null) counted.set(name, value);
  }
  try {
    guard(counted, "GET", deps.guard);
    return { may: true, deps };
  } catch (refused) {
    if (refused instanceof Unauthorised || (refused instanceof AppError && refused.code === "forbidden")) {
      return { may: false, why: refused.message };
    }
    throw refused;
  }
}
