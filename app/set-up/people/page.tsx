import type { Metadata } from "next";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { SetUpFrame } from "#app/_components/frame/set-up-frame.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { headSite } from "#services/systems/read-systems.ts";
import { PeopleSetUp } from "../_parts/people/people-set-up.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "People" };

export default async function PeoplePage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps, me } = access;
  if (!me.rights.includes("manage-people")) {
    return <NoPermission why="Only administrators can see who has an account. Ask one of them." />;
  }
  const index = await deps.read.setUp.read();
  const places = {
    sites: index.setUp.sites.map((site) => site.code),
    systems: index.systems.map(({ system }) => ({ system: system.code, name: system.name })),
  };
  return (
    <SetUpFrame>
      <PeopleSetUp places={places} zone={headSite(index).zone} />
    </SetUpFrame>
  );
}
