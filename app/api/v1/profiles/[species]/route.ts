import { known, route } from "#app/_server/route.ts";
import { saveProfile } from "#services/habitat/profiles.ts";
import { readProfile } from "#services/habitat/read-profiles.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("profile", ({ deps, params }) => readProfile(deps.read, params.species ?? ""));
export const POST = route("saveProfile", ({ deps, actor, params, body }) =>
  saveProfile(deps.write, known(actor), params.species ?? "", body),
);
