import { known, route } from "#app/_server/route.ts";
import { disablePerson } from "#services/people/people.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("disable", ({ deps, actor, params, body }) =>
  disablePerson(deps.people, known(actor), params.person ?? "", body),
);
