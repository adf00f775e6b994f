import type { Metadata } from "next";
import { readHealth } from "../../../lib/services/read-health.ts";
import { readSystems } from "../../../lib/services/read-systems.ts";
import { NoPermission } from "../../_components/no-permission.tsx";
import { forRack } from "../../_components/rack-view.ts";
import { NoSystems, RackLegend } from "../../_components/rack-words.tsx";
import { SystemsLive } from "../../_components/systems-live.tsx";
import { Waiting } from "../../_components/waiting.tsx";
import { pageAccess } from "../../page-access.ts";
import { Soon } from "../../soon.tsx";

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
