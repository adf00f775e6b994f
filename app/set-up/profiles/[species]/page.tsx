import type { Metadata } from "next";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { SetUpFrame } from "#app/_components/frame/set-up-frame.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { ProfileSetUp } from "#app/set-up/_parts/profiles/profile-set-up.tsx";
import { headSite } from "#services/systems/read-systems.ts";

export const dynamic = "force-dynamic";

interface Address {
  readonly params: Promise<{ species: string }>;
}

export async function generateMetadata({ params }: Address): Promise<Metadata> {
  return { title: `Profile of ${decodeURIComponent((await params).species)}` };
}

export default async function ProfilePage({ params }: Address) {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const index = await access.deps.read.setUp.read();
  return (
    <SetUpFrame between={<a href="/set-up/profiles">Profiles</a>}>
      <ProfileSetUp
        species={decodeURIComponent((await params).species)}
        zone={headSite(index).zone}
        may={access.me.rights.includes("change-habitat")}
      />
    </SetUpFrame>
  );
}
