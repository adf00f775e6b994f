import type { Instant } from "../core/time/instant.ts";
import { lastLocalHour } from "../core/time/site-time.ts";
import { LONGEST_NIGHT, type OvernightQuery } from "../core/wire/api.ts";
import type { FindingView, OvernightView, StreamState, SystemState } from "../core/wire/views.ts";
import type { ReadDeps } from "./deps.ts";
import { invalid } from "./errors.ts";
import { alarmsByFinding, byGravity, findingView } from "./finding-view.ts";
import { headSite, MOST_FINDINGS, readRows } from "./read-systems.ts";
import { rollupsCovering } from "./rollup-spans.ts";
import type { IndexedSetUp } from "./set-up.ts";
import { NIGHT_FROM } from "./sweep.ts";
import { isRunning, systemStates } from "./system-state.ts";

/** Alarms of findings that ended inside the window may have been raised just before it. */
const MARGIN = LONGEST_NIGHT;

type Moving = Pick<StreamState, "deviation" | "rate">;

/** Unanswered and active first, then what gets worse or does not get better, then what recovers, then what is over. */
export function rankOf(finding: FindingView, stream: Moving | undefined): number {
  if (finding.ended === null) {
    if (finding.alarm?.state === "UNACK") return 0;
    const { deviation = null, rate = null } = stream ?? {};
    const recovers = deviation !== null && rate !== null && deviation !== 0 && deviation * rate < 0;
    return recovers ? 2 : 1;
  }
  return finding.alarm?.state === "RTN_UNACK" ? 3 : 4;
}

function ranked(findings: readonly FindingView[], systems: readonly SystemState[]): FindingView[] {
  const streams = new Map(
    systems.flatMap(({ system, streams }) =>
      streams.map((row) => [`${system}/${row.point}/${row.quantity}`, row] as const),
    ),
  );
  const rank = new Map(
    findings.map((row) => [row, rankOf(row, streams.get(`${row.system}/${row.point}/${row.quantity}`))]),
  );
  return [...findings].sort((a, b) => (rank.get(a) ?? 0) - (rank.get(b) ?? 0) || byGravity(a, b));
}

function whyUnknown(stream: StreamState): string {
  if (stream.at === null) return "no reading has arrived yet";
  if (stream.silent) return "no reading has arrived when it should have";
  if (stream.flag === 4) return "the probe's reading failed its checks";
  if (stream.flag !== 1 && stream.flag !== 2) return "the reading is doubtful";
  return "neither in nor out of band can be proven";
}

function unknownOf(systems: readonly SystemState[]): OvernightView["unknown"] {
  return systems.flatMap(({ system, streams }) =>
    streams
      .filter((stream) => stream.critical && (stream.standing === "unknown" || stream.silent))
      .map((stream) => ({ system, quantity: stream.quantity, since: stream.at, why: whyUnknown(stream) })),
  );
}

async function countsOf(
  deps: ReadDeps,
  streams: readonly number[],
  from: Instant,
  to: Instant,
  now: Instant,
) {
  const counts = new Map<number, number>();
  for (const row of await rollupsCovering(deps.store, streams, from, to, to >= now)) {
    counts.set(row.stream, (counts.get(row.stream) ?? 0) + row.n);
  }
  return counts;
}

/** Readings got against readings expected, worst first; only streams with a known interval. */
async function completenessOf(
  deps: ReadDeps,
  index: IndexedSetUp,
  { from, to }: { readonly from: Instant; readonly to: Instant },
  now: Instant,
  tonight: ReadonlyMap<number, number> | null,
) {
  const scheduled = index.systems
    .filter((at) => isRunning(at, now))
    .flatMap((at) =>
      at.streams.flatMap((stream) =>
        stream.interval && stream.origin !== "derived" ? [{ at, stream, interval: stream.interval }] : [],
      ),
    );
  const ids = scheduled.map(({ stream }) => stream.id);
  const counts = tonight ?? (await countsOf(deps, ids, from, to, now));
  return scheduled
    .map(({ at, stream, interval }) => {
      const expected = Math.floor((to - Math.max(from, at.system.opened)) / interval);
      const got = counts.get(stream.id) ?? 0;
      const share = expected <= 0 ? 1 : Math.min(1, got / expected);
      return {
        system: at.system.code,
        quantity: stream.quantity,
        point: stream.pointCode,
        expected: Math.max(0, expected),
        got,
        share,
      };
    })
    .sort((a, b) => a.share - b.share || a.system.localeCompare(b.system, "en"));
}

function windowOf(query: OvernightQuery, zone: string, now: Instant) {
  const to = query.to ?? now;
  const from = query.from ?? lastLocalHour(to, zone, NIGHT_FROM);
  if (from >= to)
    throw invalid([
      {
        field: "from",
        value: String(from),
        says: `is not before to (${to})`,
        remedy: "ask for a window that ends after it begins",
      },
    ]);
  if (to - from > LONGEST_NIGHT)
    throw invalid([
      {
        field: "from",
        value: String(from),
        says: "is more than 31 days before to",
        remedy: "ask for at most 31 days",
      },
    ]);
  return { from, to };
}

/** What moved since the evening (18:00 site time unless asked otherwise), ranked; what is not known; what is calm; how complete. */
export async function readOvernight(deps: ReadDeps, query: OvernightQuery): Promise<OvernightView> {
  const now = deps.clock();
  const rows = await readRows(deps, now);
  const { zone } = headSite(rows.index);
  const { from, to } = windowOf(query, zone, now);
  const systems = systemStates(rows, (at) => isRunning(at, now));
  // The usual window is the one that tonight's sweeps were read over.
  const isUsual = query.from === undefined && query.to === undefined;
  const isOneZone = rows.index.setUp.sites.every((site) => site.zone === zone);
  const tonight = isUsual && isOneZone ? new Map([...rows.sweeps].map(([id, { n }]) => [id, n])) : null;
  const [past, alarms, completeness] = await Promise.all([
    deps.store.readFindings({ from, to, limit: MOST_FINDINGS }),
    deps.store.readAlarms({ from: from - MARGIN, to: now, limit: MOST_FINDINGS }),
    completenessOf(deps, rows.index, { from, to }, now, tonight),
  ]);
  const currents = new Map(rows.currents.map((row) => [row.stream, row]));
  const known = alarmsByFinding([...alarms, ...rows.alarms]);
  const touching = [...rows.findings, ...past].filter(
    (row) => row.began < to && (row.ended === null || row.ended >= from),
  );
  const findings = [...new Map(touching.map((row) => [row.id, row])).values()].flatMap(
    (row) => findingView(row, known.get(row.id), rows.index, now, currents.get(row.stream)) ?? [],
  );
  return {
    from,
    to,
    zone,
    findings: ranked(findings, systems),
    unknown: unknownOf(systems),
    calm: systems.filter((system) => system.standing === "calm").map((system) => system.system),
    completeness,
  };
}
