import { known, route } from "#app/_server/route.ts";
import { meOf } from "#app/_server/sign-in.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("me", ({ deps, actor, session }) =>
  meOf(deps, known(actor), session?.person.userName ?? null),
);
