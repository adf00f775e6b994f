import { known, route } from "#app/_server/route.ts";
import { importProfile } from "#services/habitat/profiles.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("importProfile", ({ deps, actor, params, body }) =>
  importProfile(deps.write, known(actor), params.species ?? "", body),
);
