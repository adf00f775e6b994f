import { known, route } from "#app/_server/route.ts";
import { renewPassword } from "#services/people/people.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("renewPassword", ({ deps, actor, params, body }) =>
  renewPassword(deps.people, known(actor), params.person ?? "", body),
);
