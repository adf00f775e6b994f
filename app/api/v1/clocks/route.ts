import { route } from "#app/_server/route.ts";
import { readClocks } from "#services/gateway/read-clocks.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("clocks", ({ deps, actor }) => readClocks(deps.read, actor));
