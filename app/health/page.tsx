import type { Metadata } from "next";
import { readUpkeep } from "../../lib/services/read-health.ts";
import { headSite } from "../../lib/services/read-systems.ts";
import { HealthLive } from "../_components/health/health-live.tsx";
import { NoPermission } from "../_components/no-permission.tsx";
import css from "../_components/set-up/set-up.module.css";
import { Top } from "../_components/top.tsx";
import { pageAccess } from "../page-access.ts";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Health" };

export default async function HealthPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps, me } = access;
  if (!me.rights.includes("read-health") || !deps.read.seesAll)
    return (
      <NoPermission why="Technicians, curators and administrators of every system see how Homewater itself is." />
    );
  const [health, index] = await Promise.all([readUpkeep(deps.read, deps.version), deps.read.setUp.read()]);
  return (
    <>
      <Top here="set-up" />
      <main id="main" className={css.page}>
        <p className={css.back}>
          <a href="/set-up">Set-up</a>
        </p>
        <h1>Health of Homewater itself</h1>
        <HealthLive initial={health} zone={headSite(index).zone} />
      </main>
    </>
  );
}
