import { route } from "#app/_server/route.ts";
import { maySeeUpkeep, readHealth, readUpkeep } from "#services/upkeep/read-health.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("health", ({ deps, actor }) =>
  maySeeUpkeep(actor)
    ? readUpkeep(deps.read, deps.version)
    : readHealth(deps.read, deps.version, actor !== null),
);
