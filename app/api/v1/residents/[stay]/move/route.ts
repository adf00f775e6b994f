import { known, route } from "#app/_server/route.ts";
import { moveAnimal } from "#services/habitat/residents.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("moveAnimal", ({ deps, actor, params, body }) =>
  moveAnimal(deps.write, known(actor), params.stay ?? "", body),
);
