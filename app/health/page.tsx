import type { Metadata } from "next";
import { readUpkeep } from "../../lib/services/read-health.ts";
import { headSite } from "../../lib/services/read-systems.ts";
import { HealthLive } from "../_components/health/health-live.tsx";
import { NoPermission } from "../_components/no-permission.tsx";
import { SetUpFrame } from "../_components/set-up/set-up-frame.tsx";
import { pageAccess } from "../page-access.ts";

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
