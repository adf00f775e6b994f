import { readHandovers } from "../../../../lib/services/read-handovers.ts";
import { signHandover } from "../../../../lib/services/sign-handover.ts";
import { known, route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("handovers", ({ deps, query }) =>
  readHandovers(deps.read, query.limit, query.before),
);
export const POST = route("signHandover", ({ deps, actor, body }) =>
  signHandover({ ...deps.write, ...deps.read }, known(actor), body),
);
