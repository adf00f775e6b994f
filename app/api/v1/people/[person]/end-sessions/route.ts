import { endSessions } from "../../../../../../lib/services/people.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("endSessions", ({ deps, actor, params, body }) =>
  endSessions(deps.people, known(actor), params.person ?? "", body),
);
