import { route } from "#app/_server/route.ts";
import { openApiDocument } from "#contract/openapi.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("openapi", async ({ deps }) => openApiDocument(deps.version));
