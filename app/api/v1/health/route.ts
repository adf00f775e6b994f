import { maySeeUpkeep, readHealth, readUpkeep } from "../../../../lib/services/read-health.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("health", ({ deps, actor }) =>
  maySeeUpkeep(actor)
    ? readUpkeep(deps.read, deps.version)
    : readHealth(deps.read, deps.version, actor !== null),
);
