import { expect, test } from "vitest";
import { bundles } from "#app/overnight/_parts/overnight-groups.tsx";
import { mergeNight } from "#app/overnight/_parts/use-night.ts";
import type { FindingView, OvernightView } from "#contract/views.ts";

function finding(id: string, more: Partial<FindingView> = {}): FindingView {
  return {
    id,
    system: "reef",
    systemName: "Reef Lagoon",
    point: "display",
    quantity: "temperature",
    quantityLabel: "Temperature",
    unitLabel: "°C",
    decimals: 1,
    kind: "out of band",
    rule: "high",
    severity: "look",
    began: 0,
    raised: 0,
    ended: null,
    late: false,
    says: `${id} at first`,
    evidence: {},
    alarm: null,
    ...more,
  };
}
const night = (findings: FindingView[]): OvernightView => ({
  from: 0,
  to: 1,
  zone: "UTC",
  findings,
  groups: [],
  unknown: [],
  calm: [],
  calmAllNight: [],
  completeness: [],
  summary: { unanswered: 0, worse: 0, recovering: 0, unknown: 0, calm: 0, share: null },
  names: {},
  labels: {},
});

test("what is shown follows the feed in place; what is new or over is counted, not moved", () => {
  const shown = [finding("rising"), finding("gone"), finding("past", { ended: 1 })];
  const merged = mergeNight(night(shown), [finding("rising", { says: "rising now" }), finding("new")]);
  expect([...merged.shown.keys()]).toEqual(["rising", "gone", "past"]);
  expect(merged.shown.get("rising")).toMatchObject({ finding: { says: "rising now" }, hasEnded: false });
  expect(merged.shown.get("gone")?.hasEnded).toBe(true);
  expect(merged.shown.get("past")?.hasEnded).toBe(false);
  expect(merged.fresh.map((row) => row.id)).toEqual(["new"]);
  expect(merged.ended).toBe(1);
});

test("streams of one system that fell silent are told together where the first of them stands", () => {
  const item = (id: string) => ({
    finding: id,
    course: "steady" as const,
    left: { kind: "not known" as const },
  });
  const all = [
    finding("a", { kind: "silent" }),
    finding("warm"),
    finding("b", { kind: "silent" }),
    finding("c", { kind: "silent" }),
    finding("elsewhere", { kind: "silent", system: "kelp" }),
  ];
  const { shown } = mergeNight(night(all), all);
  const told = bundles(
    all.map(({ id }) => item(id)),
    shown,
  );
  expect(told.map((bundle) => bundle.map((row) => row.finding))).toEqual([
    ["a", "b", "c"],
    ["warm"],
    ["elsewhere"],
  ]);
});
