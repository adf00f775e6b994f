import { known, route } from "#app/_server/route.ts";
import { tryHomeWaterFile } from "#services/home-water/home-water-file.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("tryHomeWaterFile", ({ deps, actor, body }) =>
  tryHomeWaterFile({ ...deps.write, ...deps.native }, known(actor), body),
);
