import { LONGEST_NIGHT, type OvernightQuery } from "#contract/api.ts";
import type { OvernightView, StreamState, SystemState } from "#contract/views.ts";
import { asksFor, isUnacknowledged } from "#core/alarms/alarm.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { lastLocalHour } from "#core/time/site-time.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Alarm, Finding } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { invalid } from "../errors.ts";
import { rollupsCovering } from "../rollup-spans.ts";
import type { IndexedSetUp } from "../set-up.ts";
import { alarmsByFinding, findingView } from "../systems/finding-view.ts";
import { headSite, MOST_FINDINGS, readRows } from "../systems/read-systems.ts";
import { NIGHT_FROM } from "../systems/sweep.ts";
import { isRunning, systemStates } from "../systems/system-state.ts";
import { membersOf, nightGroups, nightSummary } from "./overnight-groups.ts";
import { respondedOf } from "./responses.ts";
import { readTimesLeft } from "./times-left.ts";

/** Alarms of findings that ended inside the window may have been raised just before it. */
const MARGIN = LONGEST_NIGHT;

function whyUnknown(stream: StreamState): string {
  if (stream.at === null) return "no reading has arrived yet";
  if (stream.silent) return "no reading has arrived when expected";
  if (stream.flag === 4) return "the probe's reading failed its checks";
  if (stream.flag !== 1 && stream.flag !== 2) return "the reading is suspect";
  return "it cannot be shown to be in or out of band";
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

/** Findings that ended before the night and still ask for an answer: what nobody has acknowledged is on the list of every night until somebody does. */
async function findingsOf(
  store: ReadDeps["store"],
  asking: ReadonlySet<string>,
  ...read: readonly (readonly Finding[])[]
): Promise<readonly Finding[]> {
  const known = new Set(read.flat().map((row) => row.id));
  if ([...asking].every((id) => known.has(id))) return [];
  return (await store.readFindings({ limit: MOST_FINDINGS })).filter((row) => asking.has(row.id));
}

/** Results may come weeks after their sample; what is older was never a night's news. */
const LATEST = 31 * DAY;

/** Findings of before the night that became known in it: the reading that raised them arrived then. */
async function foundLate(
  store: ReadDeps["store"],
  index: IndexedSetUp,
  from: Instant,
  to: Instant,
): Promise<readonly Finding[]> {
  const late = await store.readFindings({ late: true, from: from - LATEST, to, limit: MOST_FINDINGS });
  const before = late.filter((row) => row.ended !== null && row.ended < from);
  const known = await Promise.all(
    before.map(async (row) => {
      const stream = index.streams.get(row.stream);
      const read = stream?.origin === "bench" ? "benchBetween" : "readingsBetween";
      // What is computed came with the reading that it is computed at.
      const own = (index.byId.get(row.system)?.streams ?? []).filter(
        (each) =>
          each.id === row.stream || (stream?.origin === "derived" && each.pointCode === stream.pointCode),
      );
      const ids = own.map((each) => each.id);
      const rows = await store[read](ids, row.raised, row.raised + 1, Number.MAX_SAFE_INTEGER);
      return rows.some(({ received }) => received >= from && received < to) ? row : null;
    }),
  );
  return known.filter((row) => row !== null);
}

function windowOf(query: OvernightQuery, zone: string, now: Instant) {
  const to = query.to ?? now;
  // At that hour itself the night before it is what has been: a window without length says nothing.
  const from = query.from ?? lastLocalHour(to - 1, zone, NIGHT_FROM);
  if (from >= to)
    throw invalid([
      {
        field: "from",
        value: String(from),
        says: `is not before to (${to})`,
        remedy: "ask for a window that ends after it starts",
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
  const [past, alarms, completeness, lefts] = await Promise.all([
    deps.store.readFindings({ from, to, limit: MOST_FINDINGS }),
    deps.store.readAlarms({ from: from - MARGIN, to: now, limit: MOST_FINDINGS }),
    completenessOf(deps, rows.index, { from, to }, now, tonight),
    readTimesLeft(deps, rows.findings, systems, rows.index.streams, now),
  ]);
  const currents = new Map(rows.currents.map((row) => [row.stream, row]));
  const known = alarmsByFinding([...alarms, ...rows.alarms]);
  const running = new Set(
    rows.index.systems.filter((at) => isRunning(at, now)).map(({ system }) => system.id),
  );
  const asking = new Set(rows.alarms.filter((row) => isUnacknowledged(row.state)).map((row) => row.finding));
  const standing = rows.alarms.filter((row) => running.has(row.system));
  const responded = await respondedOf(deps.store, standing);
  const [older, late] = await Promise.all([
    findingsOf(deps.store, asking, rows.findings, past),
    foundLate(deps.store, rows.index, from, to),
  ]);
  const touching = [
    ...[...rows.findings, ...past].filter(
      (row) => row.began < to && (row.ended === null || row.ended >= from),
    ),
    ...older,
    ...late,
  ].filter((row) => running.has(row.system));
  const findings = [...new Map(touching.map((row) => [row.id, row])).values()].flatMap(
    (row) => findingView(row, known.get(row.id), rows.index, now, currents.get(row.stream)) ?? [],
  );
  const groups = nightGroups(findings, systems, lefts, { zone, now });
  const byId = new Map(findings.map((row) => [row.id, row]));
  const found = new Set(findings.map((row) => row.system));
  const calm = systems.filter((system) => system.standing === "calm").map((system) => system.system);
  const view = {
    from,
    to,
    zone,
    findings: groups.flatMap(({ items }) => membersOf(items).flatMap((item) => byId.get(item.finding) ?? [])),
    groups,
    unknown: unknownOf(systems),
    ...notesIn(systems),
    responded: [...responded],
    calm,
    calmAllNight: calm.filter((code) => !found.has(code)),
    completeness,
  };
  const asked = askedIn(standing, responded, byId);
  return { ...view, summary: nightSummary(view, asked), ...namesOf(view, systems) };
}

/** How many alarms ask for something, as the handover passes them on. */
function askedIn(
  alarms: readonly Alarm[],
  responded: ReadonlySet<string>,
  listed: ReadonlyMap<string, unknown>,
): Pick<OvernightView["summary"], "unanswered" | "withoutResponse" | "unlisted"> {
  const asking = alarms.flatMap((alarm) => {
    const asks = asksFor(alarm, responded.has(alarm.id));
    return asks === null ? [] : [{ asks, isListed: listed.has(alarm.finding) }];
  });
  return {
    unanswered: asking.length,
    withoutResponse: asking.filter(({ asks }) => asks === "response").length,
    unlisted: asking.filter(({ isListed }) => !isListed).length,
  };
}

function notesIn(systems: readonly SystemState[]): Pick<OvernightView, "notes"> {
  const notes = systems.flatMap(({ system, notes: own = [] }) => own.map((note) => ({ system, ...note })));
  return notes.length === 0 ? {} : { notes };
}

/** Names of the systems and quantities that the view mentions by id. */
function namesOf(
  view: Pick<OvernightView, "findings" | "unknown" | "completeness">,
  systems: readonly SystemState[],
): Pick<OvernightView, "names" | "labels"> {
  const rows = [...view.findings, ...view.unknown, ...view.completeness];
  return {
    names: Object.fromEntries(systems.map(({ system, name }) => [system, name])),
    labels: Object.fromEntries(
      [...new Set(rows.map((row) => row.quantity))].map((id) => [id, labelOf(id).label]),
    ),
  };
}
