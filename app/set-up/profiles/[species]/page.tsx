import type { Metadata } from "next";
import { headSite } from "../../../../lib/services/read-systems.ts";
import { NoPermission } from "../../../_components/no-permission.tsx";
import { ProfileSetUp } from "../../../_components/set-up/profile-set-up.tsx";
import css from "../../../_components/set-up/set-up.module.css";
import { Top } from "../../../_components/top.tsx";
import { pageAccess } from "../../../page-access.ts";

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
    <>
      <Top here="set-up" />
      <main id="main" className={css.page}>
        <p className={css.back}>
          <a href="/set-up">Set-up</a> <a href="/set-up/profiles">Profiles</a>
        </p>
        <ProfileSetUp
          species={decodeURIComponent((await params).species)}
          zone={headSite(index).zone}
          may={access.me.rights.includes("change-habitat")}
        />
      </main>
    </>
  );
}
