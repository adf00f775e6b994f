import { route } from "#app/_server/route.ts";
import { draftHandover } from "#services/overnight/read-handovers.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("handoverDraft", ({ deps, query }) => draftHandover(deps.read, query.from));
