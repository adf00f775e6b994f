import { lookAtFile } from "../../../../../lib/services/importing/look-at-file.ts";
import { known, route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("lookAtFile", async ({ actor, body }) => lookAtFile(known(actor), body));
