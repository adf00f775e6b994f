import { known, route } from "#app/_server/route.ts";
import { beginImport, readImports } from "#services/importing/import-readings.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("imports", ({ deps, actor }) => readImports(deps.write, known(actor)));
export const POST = route("beginImport", ({ deps, actor, body }) =>
  beginImport(deps.write, known(actor), body),
);
