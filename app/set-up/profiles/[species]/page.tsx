import type { Metadata } from "next";
import { NoPermission } from "#app/_components/no-permission.tsx";
import { ProfileSetUp } from "#app/_components/set-up/profile-set-up.tsx";
import { SetUpFrame } from "#app/_components/set-up/set-up-frame.tsx";
import { pageAccess } from "#app/page-access.ts";
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
