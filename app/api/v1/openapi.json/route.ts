import { openApiDocument } from "../../../../lib/core/wire/openapi.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("openapi", async ({ deps }) => openApiDocument(deps.version));
