import type { Metadata } from "next";
import { headSite } from "#services/systems/read-systems.ts";
import { readUpkeep } from "#services/upkeep/read-health.ts";
import { NoPermission } from "../_components/frame/no-permission.tsx";
import { SetUpFrame } from "../_components/frame/set-up-frame.tsx";
import { pageAccess } from "../_server/page-access.ts";
import { HealthLive } from "./_parts/health-live.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Health" };

export default async function HealthPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps, me } = access;
  if (!me.rights.includes("read-health") || !deps.read.seesAll)
    return (
      <NoPermission why="Only technicians, curators and administrators with access to every system can see this page." />
    );
  const [health, index] = await Promise.all([readUpkeep(deps.read, deps.version), deps.read.setUp.read()]);
  return (
    <SetUpFrame>
      <h1>Health of Homewater</h1>
      <HealthLive initial={health} zone={headSite(index).zone} />
    </SetUpFrame>
  );
}
