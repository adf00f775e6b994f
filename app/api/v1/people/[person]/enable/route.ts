import { known, route } from "#app/_server/route.ts";
import { enablePerson } from "#services/people/people.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("enable", ({ deps, actor, params, body }) =>
  enablePerson(deps.people, known(actor), params.person ?? "", body),
);
