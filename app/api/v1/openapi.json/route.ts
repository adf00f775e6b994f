import { route } from "#app/_server/route.ts";
import { openApiDocument } from "#core/wire/openapi.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("openapi", async ({ deps }) => openApiDocument(deps.version));
