import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { AppError } from "#services/errors.ts";
import { readHandover } from "#services/overnight/read-handovers.ts";
import { headSite } from "#services/systems/read-systems.ts";
import { HandoverPage } from "../_parts/handover-page.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Handover" };

export default async function SignedHandoverPage({
  params,
}: {
  readonly params: Promise<{ readonly handover: string }>;
}) {
  const [access, { handover }] = await Promise.all([pageAccess(), params]);
  if (!access.may) return <NoPermission why={access.why} />;
  const { read } = access.deps;
  if (!read.seesAll)
    return <NoPermission why="A handover covers every system; you need a role for all of them to see it." />;
  const [signed, index] = await Promise.all([
    readHandover(read, decodeURIComponent(handover)).catch((failed: unknown) => {
      if (failed instanceof AppError && failed.code === "not_found") notFound();
      throw failed;
    }),
    read.setUp.read(),
  ]);
  return <HandoverPage handover={signed} siteName={headSite(index).name} />;
}
