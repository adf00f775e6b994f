import { route } from "#app/_server/route.ts";
import { readSystemSetUp } from "#services/set-up/read-set-up.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("systemSetUp", ({ deps, params }) =>
  readSystemSetUp(deps.read, params.system ?? ""),
);
