import { tryHomeWaterFile } from "../../../../../lib/services/home-water-file.ts";
import { known, route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("tryHomeWaterFile", ({ deps, actor, body }) =>
  tryHomeWaterFile({ ...deps.write, ...deps.native }, known(actor), body),
);
