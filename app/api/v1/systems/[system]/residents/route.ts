import { known, route } from "#app/_server/route.ts";
import { readResidents } from "#services/habitat/read-residents.ts";
import { moveIn } from "#services/habitat/residents.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("residents", ({ deps, params }) => readResidents(deps.read, params.system ?? ""));
export const POST = route("moveIn", ({ deps, actor, params, body }) =>
  moveIn(deps.write, known(actor), params.system ?? "", body),
);
