import "server-only";
import { headers } from "next/headers";
import { redirect } from "next/navigation";
import type { MeView } from "#contract/people.ts";
import type { Actor, ReadDeps } from "#services/deps.ts";
import { AppError } from "#services/errors.ts";
import { type AppDeps, appDeps } from "./deps.ts";
import { Unauthorised, type Who, whoAsks } from "./guard.ts";
import { meOf } from "./sign-in.ts";
import { WANTED_HEADER } from "./wanted.ts";

const SIGN_IN = "/sign-in";
const CHANGE_PASSWORD = "/sign-in/password";

export type PageAccess =
  | {
      readonly may: true;
      /** `read` shows what this reader may see. */
      readonly deps: AppDeps;
      readonly actor: Actor;
      readonly me: MeView;
    }
  | { readonly may: false; readonly why: string };

/** Only these count for a page: a person may come to it by a link from anywhere, and it is only shown, never inside another site's frame. */
const COUNTED = ["host", "authorization", "cookie"];

async function asking(deps: AppDeps): Promise<Who | null> {
  const asked = await headers();
  const counted = new Headers();
  for (const name of COUNTED) {
    const value = asked.get(name);
    if (value !== null) counted.set(name, value);
  }
  try {
    return await whoAsks(counted, "GET", deps.guard);
  } catch (refused) {
    if (refused instanceof Unauthorised) return null;
    throw refused;
  }
}

/** Who asks for a page, null where nobody has signed in: for pages that everybody may see. */
export async function whoIsHere(): Promise<{ readonly deps: AppDeps; readonly who: Who | null }> {
  const deps = await appDeps();
  return { deps, who: await asking(deps) };
}

function readOf(deps: AppDeps, actor: Actor): ReadDeps | string {
  try {
    return deps.scope(actor);
  } catch (refused) {
    if (refused instanceof AppError && refused.code === "forbidden") return refused.message;
    throw refused;
  }
}

/**
 * The rule of every page: anyone not signed in goes to the sign-in page and comes back here from there; who signed in with a one-time
 * password changes it first; who may see nothing is told so. Each page calls it before it reads anything.
 */
export async function pageAccess(): Promise<PageAccess> {
  const { deps, who } = await whoIsHere();
  const wanted = (await headers()).get(WANTED_HEADER);
  const back = wanted === null || wanted === "/" ? "" : `?to=${encodeURIComponent(wanted)}`;
  if (!who) redirect(`${SIGN_IN}${back}`);
  const { actor, session } = who;
  if (actor.mustChange) redirect(`${CHANGE_PASSWORD}${back}`);
  const read = readOf(deps, actor);
  if (typeof read === "string") return { may: false, why: read };
  const me = await meOf(deps, actor, session?.person.userName ?? null);
  return { may: true, deps: { ...deps, read }, actor, me };
}
