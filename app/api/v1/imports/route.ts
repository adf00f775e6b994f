import { beginImport, readImports } from "../../../../lib/services/import-readings.ts";
import { known, route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("imports", ({ deps, actor }) => readImports(deps.write, known(actor)));
export const POST = route("beginImport", ({ deps, actor, body }) =>
  beginImport(deps.write, known(actor), body),
);
