import { known, route } from "#app/_server/route.ts";
import { addFromLibrary } from "#services/habitat/profiles.ts";
import { readProfiles } from "#services/habitat/read-profiles.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("profiles", ({ deps }) => readProfiles({ ...deps.read, ...deps.library }));
export const POST = route("addFromLibrary", ({ deps, actor, body }) =>
  addFromLibrary({ ...deps.write, ...deps.library }, known(actor), body),
);
