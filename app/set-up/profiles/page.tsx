import type { Metadata } from "next";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { SetUpFrame } from "#app/_components/frame/set-up-frame.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { headSite } from "#services/systems/read-systems.ts";
import { ProfilesSetUp } from "../_parts/profiles/profiles-set-up.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Profiles" };

export default async function ProfilesPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const index = await access.deps.read.setUp.read();
  return (
    <SetUpFrame>
      <ProfilesSetUp zone={headSite(index).zone} may={access.me.rights.includes("change-habitat")} />
    </SetUpFrame>
  );
}
