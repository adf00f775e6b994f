import { renewPassword } from "../../../../../../lib/services/people.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("renewPassword", ({ deps, actor, params, body }) =>
  renewPassword(deps.people, known(actor), params.person ?? "", body),
);
