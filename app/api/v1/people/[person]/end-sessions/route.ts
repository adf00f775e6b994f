import { known, route } from "#app/_server/route.ts";
import { endSessions } from "#services/people/people.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("endSessions", ({ deps, actor, params, body }) =>
  endSessions(deps.people, known(actor), params.person ?? "", body),
);
