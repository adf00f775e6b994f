import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { SetUpFrame } from "#app/_components/frame/set-up-frame.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { SystemSetUp } from "#app/set-up/_parts/systems/system-set-up.tsx";
import { AppError } from "#services/errors.ts";
import { lookUp, systemOf } from "#services/set-up.ts";

export const dynamic = "force-dynamic";

interface Address {
  readonly params: Promise<{ system: string }>;
}

export async function generateMetadata({ params }: Address): Promise<Metadata> {
  return { title: `Set-up of ${decodeURIComponent((await params).system)}` };
}

export default async function SystemSetUpPage({ params }: Address) {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const code = decodeURIComponent((await params).system);
  await lookUp(access.deps.read.setUp, (index) => systemOf(index, code)).catch((failed: unknown) => {
    if (failed instanceof AppError && failed.code === "not_found") notFound();
    throw failed;
  });
  return (
    <SetUpFrame>
      <SystemSetUp code={code} may={access.me.rights} />
    </SetUpFrame>
  );
}
