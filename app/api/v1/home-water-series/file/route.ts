import { loadHomeWaterFile } from "../../../../../lib/services/home-water-file.ts";
import { known, route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("loadHomeWaterFile", ({ deps, actor, body }) =>
  loadHomeWaterFile(deps.write, known(actor), body),
);
