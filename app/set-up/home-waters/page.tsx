import type { Metadata } from "next";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { SetUpFrame } from "#app/_components/frame/set-up-frame.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { headSite } from "#services/systems/read-systems.ts";
import { HomeWatersSetUp } from "../_parts/home-waters/home-waters-set-up.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Our own home water data" };

export default async function HomeWatersPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const index = await access.deps.read.setUp.read();
  return (
    <SetUpFrame>
      <HomeWatersSetUp zone={headSite(index).zone} may={access.me.rights.includes("change-band")} />
    </SetUpFrame>
  );
}
