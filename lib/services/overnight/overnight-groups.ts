import type {
  FindingView,
  NightGroup,
  NightItem,
  OvernightView,
  StreamState,
  SystemState,
} from "#contract/views.ts";
import { traitsOf } from "#core/alarms/kinds.ts";
import type { TimeLeft } from "#core/forecast/time-left.ts";
import { courseOf } from "#core/overnight/course.ts";
import { MINUTE } from "#core/time/instant.ts";
import { byGravity } from "../systems/finding-view.ts";

/** Findings that began this close together are shown together. */
const NEAR = 30 * MINUTE;
/** When a gateway falls silent everything begins at once: a few are named, the others counted. */
const MOST_NEAR = 4;

const READING_ORDER: readonly NightGroup[] = [
  "unanswered",
  "answered",
  "look",
  "recovering",
  "unknown",
  "over",
];
const COURSES: readonly NightItem["course"][] = ["worse", "steady", "recovering"];

type StreamNow = Pick<StreamState, "value" | "rate" | "deviation" | "band" | "silent">;

/**
 * The one group a finding is read in. What is active and unanswered comes first whatever it is; what is over and unanswered is shown
 * with what recovers, because somebody still has to answer it.
 */
export function groupOf(finding: FindingView, course: NightItem["course"]): NightGroup {
  const state = finding.alarm?.state;
  if (finding.ended !== null) return state === "RTN_UNACK" ? "recovering" : "over";
  // What came back from its action limit and is still out of its band is active, and nobody has answered it yet.
  if (state === "UNACK" || state === "RTN_UNACK") return "unanswered";
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
  return { course: courseOf(stream), left: left ?? { kind: "not known" } };
}

/** Short names of systems by the loops they are on. */
function neighbours(systems: readonly SystemState[]): (a: string, b: string) => boolean {
  const loops = new Map(systems.map(({ system, loops }) => [system, new Set(loops)]));
  return (a, b) => {
    if (a === b) return true;
    const [first, second] = [loops.get(a), loops.get(b)];
    return first !== undefined && second !== undefined && [...first].some((loop) => second.has(loop));
  };
}

const keyOf = (row: { readonly point: string; readonly quantity: string }, system: string) =>
  `${system}/${row.point}/${row.quantity}`;

/** Every finding in its group, in reading order; in a group what gets worse first, then the most serious. */
export function nightGroups(
  findings: readonly FindingView[],
  systems: readonly SystemState[],
  lefts: ReadonlyMap<string, TimeLeft>,
): OvernightView["groups"] {
  const streams = new Map(
    systems.flatMap(({ system, streams }) => streams.map((row) => [keyOf(row, system), row] as const)),
  );
  const isNear = neighbours(systems);
  const byBeginning = [...findings].sort((a, b) => a.began - b.began);
  const told = findings.map((finding) => {
    const item = itemOf(finding, streams.get(keyOf(finding, finding.system)), lefts.get(finding.id));
    const apart = (other: FindingView) => Math.abs(other.began - finding.began);
    const others = byBeginning
      .filter(
        (other) => other.id !== finding.id && apart(other) <= NEAR && isNear(other.system, finding.system),
      )
      .sort(
        (a, b) =>
          Number(b.system === finding.system) - Number(a.system === finding.system) || apart(a) - apart(b),
      );
    const near = others.slice(0, MOST_NEAR).map((other) => other.id);
    return {
      finding,
      group: groupOf(finding, item.course),
      item: { finding: finding.id, ...item, near, nearMore: others.length - near.length },
    };
  });
  return READING_ORDER.map((group) => ({
    group,
    items: told
      .filter((row) => row.group === group)
      .sort(
        (a, b) =>
          COURSES.indexOf(a.item.course) - COURSES.indexOf(b.item.course) || byGravity(a.finding, b.finding),
      )
      .map((row) => row.item),
  })).filter(({ items }) => items.length > 0);
}

/** What the first paragraph says. */
export function nightSummary(
  view: Pick<OvernightView, "findings" | "groups" | "unknown" | "calmAllNight" | "completeness">,
): OvernightView["summary"] {
  const byId = new Map(view.findings.map((row) => [row.id, row]));
  const systemsOf = (keep: (item: NightItem, group: NightGroup) => boolean) =>
    new Set(
      view.groups.flatMap(({ group, items }) =>
        items.filter((item) => keep(item, group)).flatMap((item) => byId.get(item.finding)?.system ?? []),
      ),
    );
  const silent = systemsOf((item) => {
    const finding = byId.get(item.finding);
    return finding !== undefined && finding.ended === null && traitsOf(finding).isNotKnown;
  });
  const expected = view.completeness.reduce((sum, row) => sum + row.expected, 0);
  const got = view.completeness.reduce((sum, row) => sum + Math.min(row.got, row.expected), 0);
  return {
    unanswered: view.findings.filter(({ alarm }) => alarm?.state === "UNACK" || alarm?.state === "RTN_UNACK")
      .length,
    worse: systemsOf((item) => item.course === "worse").size,
    recovering: systemsOf((_item, group) => group === "recovering").size,
    unknown: new Set([...silent, ...view.unknown.map((row) => row.system)]).size,
    calm: view.calmAllNight.length,
    share: expected === 0 ? null : got / expected,
  };
}
