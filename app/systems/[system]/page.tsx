import type { Metadata } from "next";
import { notFound } from "next/navigation";
import type { SystemsView } from "../../../lib/core/wire/views.ts";
import type { ReadDeps } from "../../../lib/services/deps.ts";
import { AppError } from "../../../lib/services/errors.ts";
import { readSystem } from "../../../lib/services/read-system.ts";
import { readSystems } from "../../../lib/services/read-systems.ts";
import { rangeOf } from "../../_components/chart-window.ts";
import { oldestOf } from "../../_components/live-merge.ts";
import { NoPermission } from "../../_components/no-permission.tsx";
import { SystemLive } from "../../_components/system-live.tsx";
import { pageAccess } from "../../page-access.ts";

export const dynamic = "force-dynamic";

interface Address {
  readonly params: Promise<{ system: string }>;
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export async function generateMetadata({ params }: Address): Promise<Metadata> {
  const { system } = await params;
  return { title: decodeURIComponent(system) };
}

/** The view of the one system, also of one that is closed and so on no list. */
async function viewOf(deps: ReadDeps, code: string): Promise<SystemsView> {
  const view = await readSystems(deps);
  const running = view.systems.find((s) => s.system === code);
  const systems = [running ?? (await readSystem(deps, code))];
  return { ...view, systems, oldest: oldestOf(systems) };
}

export default async function SystemPage({ params, searchParams }: Address) {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const [{ system }, search] = await Promise.all([params, searchParams]);
  const code = decodeURIComponent(system);
  const range = rangeOf(typeof search.range === "string" ? search.range : undefined);
  const view = await viewOf(access.deps.read, code).catch((failed: unknown) => {
    if (failed instanceof AppError && failed.code === "not_found") notFound();
    throw failed;
  });
  return <SystemLive key={code} code={code} initial={view} range={range.id} />;
}
