import { known, route } from "#app/_server/route.ts";
import { noteBreeding } from "#services/habitat/breeding.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("noteBreeding", ({ deps, actor, params, body }) =>
  noteBreeding(deps.write, known(actor), params.watch ?? "", body),
);
