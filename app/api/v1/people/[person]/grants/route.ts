import { known, route } from "#app/_server/route.ts";
import { setGrants } from "#services/people/people.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("grants", ({ deps, actor, params, body }) =>
  setGrants(deps.people, known(actor), params.person ?? "", body),
);
