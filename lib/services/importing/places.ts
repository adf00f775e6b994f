import { type ImportPlan, placeText, targetsOf } from "#core/importing/plan.ts";
import type { Stream } from "#store/port.ts";
import type { Actor } from "../deps.ts";
import { type FieldIssue, invalid } from "../errors.ts";
import { demandAt } from "../permission.ts";
import type { IndexedSetUp, SystemSetUp } from "../set-up.ts";

export interface Placed {
  readonly at: SystemSetUp;
  /** The point's id. */
  readonly point: string;
  readonly quantity: string;
  /** Null where no reading of the quantity has come from this point yet. */
  readonly stream: Stream | null;
}

/** Where each target of a plan belongs. Throws AppError "invalid" for what is not set up, "forbidden" without the right there. */
export function placesOf(index: IndexedSetUp, actor: Actor, plan: ImportPlan): Placed[] {
  const issues: FieldIssue[] = [];
  const placed: Placed[] = [];
  const seen = new Set<string>();
  for (const [number, { target }] of targetsOf(plan).entries()) {
    const fault = (part: "system" | "point" | "quantity", says: string, remedy: string) =>
      issues.push({ field: `plan.targets.${number}.${part}`, value: target[part], says, remedy });
    const at = index.byCode.get(target.system);
    if (!at) {
      fault("system", "is not set up here", "use a system's short name, or set it up first");
      continue;
    }
    demandAt(actor, "import-readings", at);
    const point = at.points.find((one) => one.code === target.point);
    if (!point) {
      fault(
        "point",
        `is not a point of ${target.system}`,
        `use one of ${at.points.map((one) => one.code).join(", ")}, or add the point first`,
      );
      continue;
    }
    const place = placeText(target);
    if (seen.has(place))
      fault("quantity", `is used for two columns: ${place}`, "give each column its own place");
    seen.add(place);
    const streams = at.streams.filter((one) => one.point === point.id && one.quantity === target.quantity);
    const stream =
      streams.find((one) => one.origin === "probe") ??
      streams.find((one) => one.origin === "equipment") ??
      null;
    placed.push({ at, point: point.id, quantity: target.quantity, stream });
  }
  if (issues.length > 0) throw invalid(issues);
  return placed;
}
