import { known, route } from "#app/_server/route.ts";
import { loadHomeWaterFile } from "#services/home-water/home-water-file.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("loadHomeWaterFile", ({ deps, actor, body }) =>
  loadHomeWaterFile(deps.write, known(actor), body),
);
