import type { Metadata } from "next";
import { headSite } from "../../../lib/services/read-systems.ts";
import { NoPermission } from "../../_components/no-permission.tsx";
import { HomeWatersSetUp } from "../../_components/set-up/home-waters-set-up.tsx";
import { SetUpFrame } from "../../_components/set-up/set-up-frame.tsx";
import { pageAccess } from "../../page-access.ts";

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
