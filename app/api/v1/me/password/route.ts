import { changeOwnPassword } from "../../../../../lib/services/change-own-password.ts";
import { known, route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("ownPassword", ({ deps, actor, session, body }) =>
  changeOwnPassword(deps.people, known(actor), session?.token ?? "", body),
);
