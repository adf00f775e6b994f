import { planAt } from "../habitat/plan.ts";
import { isInForce } from "../time/in-force.ts";
import type { Instant } from "../time/instant.ts";
import type { StreamSettings } from "./settings.ts";

/** What the plan in force asks of a stream at an instant; 0 where there is none, so that it can simply be subtracted. */
export function planned(stream: Pick<StreamSettings, "plans">, at: Instant): number {
  for (const plan of stream.plans) {
    if (isInForce(plan, at)) return planAt(plan.shape, at);
  }
  return 0;
}
