import { known, route } from "#app/_server/route.ts";
import { readHandovers } from "#services/overnight/read-handovers.ts";
import { signHandover } from "#services/overnight/sign-handover.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("handovers", ({ deps, query }) =>
  readHandovers(deps.read, query.limit, query.before),
);
export const POST = route("signHandover", ({ deps, actor, body }) =>
  signHandover({ ...deps.write, ...deps.read }, known(actor), body),
);
