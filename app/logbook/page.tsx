import type { Metadata } from "next";
import { readLog } from "#services/logbook/read-log.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { readHealth } from "#services/upkeep/read-health.ts";
import { NoPermission } from "../_components/frame/no-permission.tsx";
import { pageAccess } from "../_server/page-access.ts";
import { filterOf, logQueryOf } from "./_parts/log-choices.ts";
import { LogbookLive } from "./_parts/logbook-live.tsx";
import { logChoices } from "./log-kinds.ts";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Logbook" };

type Search = Record<string, string | string[] | undefined>;

const text = (search: Search, key: string): string => (typeof search[key] === "string" ? search[key] : "");

export default async function LogbookPage({ searchParams }: { readonly searchParams: Promise<Search> }) {
  const [access, search] = await Promise.all([pageAccess(), searchParams]);
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps, me } = access;
  const { read } = deps;
  const kinds = logChoices();
  const view = await readSystems(read);
  const asked = filterOf(search);
  // A name that no longer exists (an old link) lists everything rather than nothing.
  const filter = {
    ...asked,
    system: view.systems.some(({ system }) => system === asked.system) ? asked.system : "",
    kind: kinds.some(({ id }) => id === asked.kind) ? asked.kind : "",
  };
  const [log, open, health] = await Promise.all([
    readLog(read, logQueryOf(filter, view.now)),
    readLog(read, { open: "true" }),
    readHealth(read, deps.version, true),
  ]);
  const start =
    search.add === undefined
      ? null
      : { kind: filter.kind, system: filter.system, alarm: text(search, "alarm") };
  const may = me.rights.includes("write-log");
  return (
    <LogbookLive
      // A filter is a new list: what was typed or read under the one before does not belong to it.
      key={`${filter.system}/${filter.kind}/${filter.range}`}
      initial={view}
      rejected={health.detail?.counts.rejected ?? null}
      log={log}
      open={open.entries}
      filter={filter}
      kinds={kinds}
      may={may}
      start={may ? start : null}
    />
  );
}
