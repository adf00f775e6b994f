import type { Metadata } from "next";
// The charts' script comes later, their style with the page: what the server drew must not stand there bare until then.
import "../_parts/chart/chart.module.css";
import "../_parts/system/computed-now.module.css";
import "../_parts/lane/time-lane.module.css";
import "../_parts/trend/trend.module.css";
import "../_parts/trend/trends.module.css";
import "#app/_components/findings/working.module.css";
import { notFound } from "next/navigation";
import { ClockNotices } from "#app/_components/frame/clock-notices.tsx";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { oldestOf } from "#app/_components/live/live-merge.ts";
import { pageAccess } from "#app/_server/page-access.ts";
import type { SystemsView } from "#contract/views.ts";
import type { ReadDeps } from "#services/deps.ts";
import { AppError } from "#services/errors.ts";
import { readClocks } from "#services/gateway/read-clocks.ts";
import { readLiving } from "#services/habitat/read-living.ts";
import { readStatesSince } from "#services/systems/read-states-since.ts";
import { readSystem } from "#services/systems/read-system.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { LivingHere } from "../_parts/system/living-here.tsx";
import { SystemLive } from "../_parts/system/system-live.tsx";
import { readAddress } from "../_parts/trend/trend-address.ts";

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
  const [{ view, others }, since, living, { clocks }] = await Promise.all([
    viewOf(read, code),
    readStatesSince(read, code),
    readLiving(read, code),
    readClocks(read),
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
      living={
        <>
          <ClockNotices clocks={clocks.filter(({ systems }) => systems.includes(code))} />
          <LivingHere view={living} />
        </>
      }
      watches={living.watches}
      mayAcknowledge={access.me.rights.includes("acknowledge")}
    />
  );
}
