import type { Metadata } from "next";
import { readProbes } from "#services/probes/read-probes.ts";
import { NoPermission } from "../_components/no-permission.tsx";
import { ProbesPage } from "../_components/probes/probes-page.tsx";
import { Top } from "../_components/top.tsx";
import { pageAccess } from "../page-access.ts";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Probes" };

export default async function Page() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps, me } = access;
  return (
    <>
      <Top here="probes" />
      <ProbesPage initial={await readProbes(deps.read)} may={me.rights.includes("calibrate")} />
    </>
  );
}
