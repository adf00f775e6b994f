import type { Metadata } from "next";
import { headSite } from "../../../lib/services/read-systems.ts";
import { NoPermission } from "../../_components/no-permission.tsx";
import { PeopleSetUp } from "../../_components/set-up/people-set-up.tsx";
import { SetUpFrame } from "../../_components/set-up/set-up-frame.tsx";
import { pageAccess } from "../../page-access.ts";

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
