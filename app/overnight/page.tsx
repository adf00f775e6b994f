import type { Metadata } from "next";
import { HOUR } from "#core/time/index.ts";
import type { ReadDeps } from "#services/deps.ts";
import { readClocks } from "#services/gateway/read-clocks.ts";
import { readNightCounts } from "#services/habitat/night-counts.ts";
import { readLog } from "#services/logbook/read-log.ts";
import { readHandovers } from "#services/overnight/read-handovers.ts";
import { readIncidents } from "#services/overnight/read-incidents.ts";
import { readOvernight } from "#services/overnight/read-overnight.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { readHealth } from "#services/upkeep/read-health.ts";
import { ClockNotices } from "../_components/frame/clock-notices.tsx";
import { NoPermission } from "../_components/frame/no-permission.tsx";
import { Waiting } from "../_components/frame/waiting.tsx";
import { pageAccess } from "../_server/page-access.ts";
import { Soon } from "../_server/soon.tsx";
import { OvernightLive } from "./_parts/overnight-live.tsx";
import { incomplete, NIGHT_RANGES } from "./_parts/overnight-words.ts";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Overnight" };

interface Address {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

const EARLIER = 12;
const MOST_ENTRIES = 500;
const LONGEST_SHIFT = 31 * 24 * HOUR;

/** Handovers cover every system: who sees only some reads the night without them. */
async function earlierHandovers(read: ReadDeps) {
  return read.seesAll ? (await readHandovers(read, EARLIER)).handovers : [];
}

/** Entries of the range and what still goes on from before it, each once. */
async function logOf(read: ReadDeps, from: number, to: number) {
  const [within, open] = await Promise.all([
    readLog(read, { from, to, limit: MOST_ENTRIES }),
    readLog(read, { open: "true", limit: MOST_ENTRIES }),
  ]);
  return [...new Map([...open.entries, ...within.entries].map((entry) => [entry.id, entry])).values()];
}

export default function OvernightPage(address: Address) {
  return (
    <Soon
      content={overnight(address)}
      waiting={
        <Waiting here="overnight" title="Overnight">
          Loading what changed since the last handover ...
        </Waiting>
      }
    />
  );
}

async function overnight({ searchParams }: Address) {
  const [access, { since }] = await Promise.all([pageAccess(), searchParams]);
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps, me } = access;
  const { read } = deps;
  const now = read.clock();
  const range = NIGHT_RANGES.find(({ id }) => id === since) ?? NIGHT_RANGES[0];
  const handovers = await earlierHandovers(read);
  const signed = handovers.find((row) => row.signed < now && now - row.signed < LONGEST_SHIFT)?.signed;
  const from = range.id === "" ? signed : now - range.hours * HOUR;
  const [view, night, health, counts] = await Promise.all([
    readSystems(read),
    readOvernight(read, from === undefined ? {} : { from }),
    readHealth(read, deps.version, true),
    readNightCounts(read),
  ]);
  const [log, found, { clocks }] = await Promise.all([
    logOf(read, night.from, night.to),
    readIncidents(read, { from: night.from, to: night.to }),
    readClocks(read),
  ]);
  return (
    <OvernightLive
      initial={view}
      rejected={health.detail?.counts.rejected ?? null}
      night={{ ...night, completeness: incomplete(night) }}
      log={log}
      counts={counts}
      incidents={found.incidents}
      handovers={handovers}
      may={{
        acknowledge: me.rights.includes("acknowledge"),
        sign: me.rights.includes("sign-handover") && read.seesAll,
        log: me.rights.includes("write-log"),
      }}
      since={range.id}
      clocks={<ClockNotices clocks={clocks} />}
    />
  );
}
