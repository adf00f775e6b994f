import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { BENCH_QUANTITIES } from "#core/bench/field.ts";
import { may } from "#core/people/index.ts";
import { readBenchForm } from "#services/bench/read-bench-form.ts";
import { AppError } from "#services/errors.ts";
import { BenchForm } from "../_parts/bench-form.tsx";

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
