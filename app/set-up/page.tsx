import type { Metadata } from "next";
import css from "../_components/controls/forms.module.css";
import { NoPermission } from "../_components/frame/no-permission.tsx";
import { Top } from "../_components/frame/top.tsx";
import { pageAccess } from "../_server/page-access.ts";
import { SystemsSetUp } from "./_parts/systems/systems-set-up.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Set-up" };

export default async function SetUpPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps, me } = access;
  const { setUp, systems: all } = await deps.read.setUp.read();
  const now = deps.read.clock();
  const systems = all
    .map(({ system, site, streams, bands }) => ({
      system: system.code,
      name: system.closed !== null && system.closed <= now ? `${system.name} (closed)` : system.name,
      site: site.code,
      kind: system.kind,
      volume: system.volume,
      streams: streams.length,
      bands: new Set(bands.filter((b) => b.validTo === null).map((b) => `${b.quantity} ${b.point}`)).size,
    }))
    .sort((a, b) => a.name.localeCompare(b.name, "en"));
  return (
    <>
      <Top here="set-up" />
      <main id="main" className={css.page}>
        <h1>Set-up</h1>
        <p className={css.more}>
          {me.rights.includes("manage-people") && <a href="/set-up/people">People</a>}
          <a href="/set-up/profiles">Species profiles</a>
          <a href="/set-up/home-waters">Our own home water data</a>
          {me.rights.includes("import-readings") && <a href="/set-up/import">Import history from files</a>}
          {me.rights.includes("read-health") && <a href="/health">Health of Homewater</a>}
          <a href="/rejected">Rejected messages</a>
          <a href="/parts">Screen components, for developers</a>
        </p>
        <SystemsSetUp
          systems={systems}
          sites={setUp.sites.map((site) => site.code)}
          mayAdd={me.rights.includes("change-system")}
        />
      </main>
    </>
  );
}
