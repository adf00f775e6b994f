import type { Metadata } from "next";
import { readHealth } from "../../lib/services/read-health.ts";
import { readOvernight } from "../../lib/services/read-overnight.ts";
import { readSystems } from "../../lib/services/read-systems.ts";
import { NoPermission } from "../_components/no-permission.tsx";
import { OvernightLive } from "../_components/overnight-live.tsx";
import { incomplete } from "../_components/overnight-words.ts";
import { pageAccess } from "../page-access.ts";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Overnight" };

export default async function OvernightPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps } = access;
  const [view, night, health] = await Promise.all([
    readSystems(deps.read),
    readOvernight(deps.read, {}),
    readHealth(deps.read, deps.version, true),
  ]);
  return (
    <OvernightLive
      initial={view}
      rejected={health.detail?.counts.rejected ?? null}
      night={{ ...night, completeness: incomplete(night) }}
      log={[]}
      handovers={[]}
      may={{ acknowledge: true, sign: true }}
    />
  );
}
