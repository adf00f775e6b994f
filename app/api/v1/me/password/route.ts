import { known, route } from "#app/_server/route.ts";
import { changeOwnPassword } from "#services/people/change-own-password.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("ownPassword", ({ deps, actor, session, body }) =>
  changeOwnPassword(deps.people, known(actor), session?.token ?? "", body),
);
