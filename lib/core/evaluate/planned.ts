import { planAt } from "../habitat/plan.ts";
import { isInForce } from "../time/in-force.ts";
import type { Instant } from "../time/instant.ts";
import type { StreamSettings } from "./settings.ts";

type Planned = Pick<StreamSettings, "plans">;

/** The plan in force for a stream at an instant. */
export function planInForce(stream: Planned, at: Instant): StreamSettings["plans"][number] | undefined {
  for (const plan of stream.plans) if (isInForce(plan, at)) return plan;
  return undefined;
}

/** What the plan in force asks of a stream at an instant; 0 where there is none, so that it can simply be subtracted. */
export function planned(stream: Planned, at: Instant): number {
  const plan = planInForce(stream, at);
  return plan ? planAt(plan.shape, at) : 0;
}
