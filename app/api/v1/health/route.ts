import { readHealth } from "../../../../lib/services/read-health.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("health", ({ deps, actor }) => readHealth(deps.read, deps.version, actor !== null));
