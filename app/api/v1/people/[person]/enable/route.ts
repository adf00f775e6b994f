import { enablePerson } from "../../../../../../lib/services/people.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("enable", ({ deps, actor, params, body }) =>
  enablePerson(deps.people, known(actor), params.person ?? "", body),
);
