import { known, route } from "#app/_server/route.ts";
import { lookAtFile } from "#services/importing/look-at-file.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("lookAtFile", async ({ actor, body }) => lookAtFile(known(actor), body));
