import type { Metadata } from "next";
import { readProbes } from "#services/probes/read-probes.ts";
import { NoPermission } from "../_components/frame/no-permission.tsx";
import { Top } from "../_components/frame/top.tsx";
import { pageAccess } from "../_server/page-access.ts";
import { ProbesPage } from "./_parts/probes-page.tsx";

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
