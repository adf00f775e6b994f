import type { Metadata } from "next";
// The charts' script comes later, their style with the page: what the server drew must not stand there bare until then.
import "../../_components/chart.module.css";
import "../../_components/computed-now.module.css";
import "../../_components/time-lane.module.css";
import "../../_components/trend.module.css";
import "../../_components/trends.module.css";
import "../../_components/working.module.css";
import { notFound } from "next/navigation";
import type { SystemsView } from "../../../lib/core/wire/views.ts";
import type { ReadDeps } from "../../../lib/services/deps.ts";
import { AppError } from "../../../lib/services/errors.ts";
import { readLiving } from "../../../lib/services/read-living.ts";
import { readStatesSince } from "../../../lib/services/read-states-since.ts";
import { readSystem } from "../../../lib/services/read-system.ts";
import { readSystems } from "../../../lib/services/read-systems.ts";
import { oldestOf } from "../../_components/live-merge.ts";
import { LivingHere } from "../../_components/living-here.tsx";
import { NoPermission } from "../../_components/no-permission.tsx";
import { SystemLive } from "../../_components/system-live.tsx";
import { readAddress } from "../../_components/trend-address.ts";
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

/** The view of the one system, also of one that is closed and so on no list; and the names of the others. */
async function viewOf(deps: ReadDeps, code: string) {
  const view = await readSystems(deps);
  const running = view.systems.find((s) => s.system === code);
  const systems = [running ?? (await readSystem(deps, code))];
  const others = view.systems
    .filter((s) => s.system !== code)
    .map(({ system, name }) => ({ system, name }))
    .sort((a, b) => a.name.localeCompare(b.name, "en"));
  return { view: { ...view, systems, oldest: oldestOf(systems) } satisfies SystemsView, others };
}

export default async function SystemPage({ params, searchParams }: Address) {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const [{ system }, search] = await Promise.all([params, searchParams]);
  const code = decodeURIComponent(system);
  const { read } = access.deps;
  const [{ view, others }, since, living] = await Promise.all([
    viewOf(read, code),
    readStatesSince(read, code),
    readLiving(read, code),
  ]).catch((failed: unknown) => {
    if (failed instanceof AppError && failed.code === "not_found") notFound();
    throw failed;
  });
  return (
    <SystemLive
      key={code}
      code={code}
      initial={view}
      address={readAddress(search)}
      others={others}
      since={since}
      living={<LivingHere view={living} />}
      watches={living.watches}
      mayAcknowledge={access.me.rights.includes("acknowledge")}
    />
  );
}
