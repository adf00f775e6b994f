import type { Metadata } from "next";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { Waiting } from "#app/_components/frame/waiting.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { Soon } from "#app/_server/soon.tsx";
import { readSystems } from "#services/systems/read-systems.ts";
import { readHealth } from "#services/upkeep/read-health.ts";
import { forRack } from "../_parts/rack/rack-view.ts";
import { NoSystems, RackLegend } from "../_parts/rack/rack-words.tsx";
import { SystemsLive } from "../_parts/rack/systems-live.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Systems" };

interface Address {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default function SystemsPage(address: Address) {
  return (
    <Soon
      content={systems(address)}
      waiting={
        <Waiting here="systems" title="Systems">
          Loading the latest state of every system ...
        </Waiting>
      }
    />
  );
}

async function systems({ searchParams }: Address) {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps } = access;
  const [view, health] = await Promise.all([
    readSystems(deps.read),
    readHealth(deps.read, deps.version, true),
  ]);
  const { by } = await searchParams;
  return (
    <SystemsLive
      initial={forRack(view)}
      by={by === "loop" ? "loop" : "standing"}
      rejected={health.detail?.counts.rejected ?? null}
      legend={<RackLegend />}
      nothing={<NoSystems />}
    />
  );
}
