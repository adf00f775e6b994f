import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { BENCH_QUANTITIES } from "../../../lib/core/bench/field.ts";
import { may } from "../../../lib/core/people/index.ts";
import { AppError } from "../../../lib/services/errors.ts";
import { readBenchForm } from "../../../lib/services/read-bench-form.ts";
import { BenchForm } from "../../_components/bench/bench-form.tsx";
import { NoPermission } from "../../_components/no-permission.tsx";
import { pageAccess } from "../../page-access.ts";

export const dynamic = "force-dynamic";

interface Address {
  readonly params: Promise<{ system: string }>;
}

export async function generateMetadata({ params }: Address): Promise<Metadata> {
  const { system } = await params;
  return { title: `Bench, ${decodeURIComponent(system)}` };
}

export default async function BenchFormPage({ params }: Address) {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const code = decodeURIComponent((await params).system);
  const view = await readBenchForm(access.deps.read, code).catch((failed: unknown) => {
    if (failed instanceof AppError && failed.code === "not_found") notFound();
    throw failed;
  });
  if (!may(access.actor.grants, "record-bench", view.place))
    return <NoPermission why={`You can see ${view.name} on its page, but not record bench tests for it.`} />;
  return <BenchForm key={code} view={view} quantities={BENCH_QUANTITIES} user={access.actor.id} />;
}
