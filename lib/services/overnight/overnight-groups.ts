import type {
  FindingView,
  NightGroup,
  NightItem,
  OvernightView,
  StreamState,
  SystemState,
} from "#contract/views.ts";
import { isUnacknowledged } from "#core/alarms/alarm.ts";
import { traitsOf } from "#core/alarms/kinds.ts";
import type { TimeLeft } from "#core/forecast/time-left.ts";
import { incidentsOf, type Member } from "#core/incidents/group.ts";
import { courseOf } from "#core/overnight/course.ts";
import type { Instant } from "#core/time/instant.ts";
import { wallTime } from "#core/time/wall-time.ts";
import { countOf } from "#core/units/figures-text.ts";
import type { Finding } from "#store/port.ts";
import { byGravity } from "../systems/finding-view.ts";

const READING_ORDER: readonly NightGroup[] = [
  "unanswered",
  "answered",
  "look",
  "recovering",
  "unknown",
  "ended",
  "over",
];
const COURSES: readonly NightItem["course"][] = ["worse", "steady", "recovering"];

type StreamNow = Pick<StreamState, "value" | "rate" | "deviation" | "band" | "silent">;

/**
 * The one group a finding is read in. What is active and unanswered comes first whatever it is; what is over and still asks for an
 * answer comes before what is over.
 */
export function groupOf(finding: FindingView, course: NightItem["course"]): NightGroup {
  const state = finding.alarm?.state;
  const isAsking = state !== undefined && isUnacknowledged(state);
  if (finding.ended !== null) return isAsking ? "ended" : "over";
  // What came back from its action limit and is still out of its band is active, and nobody has answered it yet.
  if (isAsking) return "unanswered";
  if (traitsOf(finding).isNotKnown) return "unknown";
  if (course === "recovering") return "recovering";
  // Back from its limit and seen by somebody: the alarm is over, the finding is not.
  return state === "ACK" || (finding.alarm?.acknowledged ?? null) !== null ? "answered" : "look";
}

function itemOf(
  finding: FindingView,
  stream: StreamNow | undefined,
  left: TimeLeft | undefined,
): Pick<NightItem, "course" | "left"> {
  if (finding.ended !== null || !stream || !traitsOf(finding).hasCourse)
    return { course: "steady", left: { kind: "not known" } };
  return { course: courseOf(alongside(finding, stream)), left: left ?? { kind: "not known" } };
}

/** While it changes too fast it goes the way that finding says: its rate of two hours may still be that of the water before. */
function alongside({ kind, rule, evidence }: FindingView, stream: StreamNow): StreamNow {
  if (kind !== "too fast" || typeof evidence.rate !== "number") return stream;
  const isSameWay = stream.rate !== null && Math.sign(stream.rate) === (rule === "rising" ? 1 : -1);
  return isSameWay ? stream : { ...stream, rate: evidence.rate };
}

const keyOf = (row: { readonly point: string; readonly quantity: string }, system: string) =>
  `${system}/${row.point}/${row.quantity}`;

/** A finding as a member of an incident. */
export const memberOf = (
  row: Pick<Finding, "id" | "system" | "began" | "ended" | "severity" | "kind" | "rule" | "evidence">,
  stream: string,
  loops: readonly string[],
): Member => {
  const { tellsWord, isNotKnown, probe, proof } = traitsOf(row);
  const { id, system, began, ended } = row;
  const { sender } = row.evidence;
  const silentSender = isNotKnown && typeof sender === "string" ? sender : null;
  const isGrave = row.severity !== "look" && !isNotKnown && probe === null;
  return {
    id,
    system,
    stream,
    loops,
    began,
    ended,
    sender: silentSender,
    isState: tellsWord,
    isAlone: proof === "bench",
    isGrave,
  };
};

interface Told {
  readonly finding: FindingView;
  readonly group: NightGroup;
  readonly course: NightItem["course"];
  readonly left: NightItem["left"];
}

/** What needs somebody most comes first; of equals what gets worse, the most serious, the earliest. */
const byPressure = (a: Told, b: Told): number =>
  READING_ORDER.indexOf(a.group) - READING_ORDER.indexOf(b.group) ||
  COURSES.indexOf(a.course) - COURSES.indexOf(b.course) ||
  byGravity(a.finding, b.finding);

/**
 * "41 streams on 9 systems, all sent by gateway-1, silent since 23:55"; null where it is not several streams of one gateway. Whether the gateway sends
 * anything else is not known here, and so not said.
 */
function senderSilent(
  members: readonly Member[],
  told: readonly Told[],
  { zone, now }: { readonly zone: string; readonly now: Instant },
): string | null {
  const sender = members[0]?.sender ?? null;
  const open = told.filter(({ finding }) => finding.ended === null);
  const findings = (open.length > 0 ? open : told).map(({ finding }) => finding);
  if (sender === null || findings.length < 2) return null;
  const systems = new Set(findings.map(({ system }) => system)).size;
  const streams = `${countOf(findings.length, "stream")} on ${countOf(systems, "system")}`;
  const who = `${streams}, all sent by ${sender},`;
  const from = wallTime(Math.max(...findings.map(({ began }) => began)), zone, now);
  if (open.length > 0 && findings.every(({ evidence }) => evidence.held === "held"))
    return `${sender} sends with a wrong clock since ${from}, and what it sends is held: ${streams}`;
  if (open.length > 0) return `${who} silent since ${from}`;
  return `${who} were silent from ${from} to ${wallTime(Math.min(...findings.map(({ ended }) => ended ?? now)), zone, now)}`;
}

/** Every incident once, in reading order: its most pressing finding with the others in order of time. */
export function nightGroups(
  findings: readonly FindingView[],
  systems: readonly SystemState[],
  lefts: ReadonlyMap<string, TimeLeft>,
  clock: { readonly zone: string; readonly now: Instant },
): OvernightView["groups"] {
  const streams = new Map(
    systems.flatMap(({ system, streams }) => streams.map((row) => [keyOf(row, system), row] as const)),
  );
  const loops = new Map(systems.map((row) => [row.system, row.loops]));
  const told = new Map(
    findings.map((finding): [string, Told] => {
      const item = itemOf(finding, streams.get(keyOf(finding, finding.system)), lefts.get(finding.id));
      return [finding.id, { finding, group: groupOf(finding, item.course), ...item }];
    }),
  );
  const rows = incidentsOf(
    findings.map((row) => memberOf(row, keyOf(row, row.system), loops.get(row.system) ?? [])),
  ).flatMap(({ members }) => {
    const inTime = members.flatMap(({ id }) => told.get(id) ?? []);
    const [lead] = inTime.toSorted(byPressure);
    if (!lead) return [];
    const others = inTime
      .filter((row) => row !== lead)
      .map(({ finding, course, left }) => ({ finding: finding.id, course, left }));
    const item = { finding: lead.finding.id, course: lead.course, left: lead.left };
    if (others.length === 0) return [{ lead, item }];
    const says = senderSilent(members, inTime, clock);
    return [{ lead, item: says === null ? { ...item, others } : { ...item, others, says } }];
  });
  rows.sort((a, b) => byPressure(a.lead, b.lead));
  return READING_ORDER.map((group) => ({
    group,
    items: rows.filter(({ lead }) => lead.group === group).map(({ item }) => item),
  })).filter(({ items }) => items.length > 0);
}

/** Every finding of a night with how it goes, the others of an incident too. */
export const membersOf = (items: readonly NightItem[]) =>
  items.flatMap(({ others = [], ...first }) => [first, ...others]);

/** What the first paragraph says. */
export function nightSummary(
  view: Pick<OvernightView, "findings" | "groups" | "unknown" | "calmAllNight" | "completeness">,
  asked: Pick<OvernightView["summary"], "unanswered" | "withoutResponse" | "unlisted">,
): OvernightView["summary"] {
  const byId = new Map(view.findings.map((row) => [row.id, row]));
  const systemsOf = (keep: (item: Pick<NightItem, "finding" | "course">) => boolean) =>
    new Set(
      view.groups.flatMap(({ items }) =>
        membersOf(items)
          .filter(keep)
          .flatMap((item) => byId.get(item.finding)?.system ?? []),
      ),
    );
  const silent = systemsOf((item) => {
    const finding = byId.get(item.finding);
    return finding !== undefined && finding.ended === null && traitsOf(finding).isNotKnown;
  });
  const expected = view.completeness.reduce((sum, row) => sum + row.expected, 0);
  const got = view.completeness.reduce((sum, row) => sum + Math.min(row.got, row.expected), 0);
  return {
    ...asked,
    worse: systemsOf((item) => item.course === "worse").size,
    recovering: systemsOf((item) => item.course === "recovering").size,
    unknown: new Set([...silent, ...view.unknown.map((row) => row.system)]).size,
    calm: view.calmAllNight.length,
    share: expected === 0 ? null : got / expected,
  };
}
