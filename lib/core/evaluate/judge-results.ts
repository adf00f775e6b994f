import { type TestResult, testCourse, testRun, testTrend, withResult } from "../drift/bench-trend.ts";
import { miscount } from "../drift/count.ts";
import { planAt } from "../habitat/plan.ts";
import type { Instant } from "../time/instant.ts";
import { stepImmediateCondition } from "./immediate-condition.ts";
import type { JudgeContext } from "./judge.ts";
import { edgesFor } from "./judge-band.ts";
import type { Outputs } from "./outputs.ts";
import { planInForce } from "./planned.ts";
import type { StreamSettings } from "./settings.ts";

/** A good result of the bench beside the ones before it: is there a trend. */
export function judgeResults(judged: JudgeContext, out: Outputs): void {
  const { state, stream, at, value } = judged;
  if (stream.isCount) judgeCount(judged, out);
  if (stream.repeats === null) return;
  state.results = withResult(state.results ?? [], at, value);
  const plan = planInForce(stream, at);
  const results = againstPlan(state.results, stream, at);
  const edges = edgesFor(stream, at, judged.context.monthsOf);
  const limitOn = (side: 1 | -1) =>
    edges === null || plan !== undefined
      ? null
      : side > 0
        ? (edges.actionHigh ?? edges.high)
        : (edges.actionLow ?? edges.low);
  const proven = testTrend(results, stream.repeats);
  const run = proven ? null : testRun(results, limitOn);
  const trend = proven ?? run;
  const course = run ?? (proven ? testCourse(results.slice(-proven.tests), limitOn) : null);
  const evidence = () => ({
    value,
    change: trend?.change ?? null,
    days: trend?.days ?? null,
    tests: trend?.tests ?? null,
    threshold: trend?.threshold ?? null,
    perDay: course?.perDay ?? null,
    slowest: course?.slowest ?? null,
    fastest: course?.fastest ?? null,
    limit: course?.goal ?? null,
    earliest: course?.earliest ?? null,
    latest: course?.latest ?? null,
    plan: plan === undefined ? null : planAt(plan.shape, at),
  });
  stepImmediateCondition(
    judged,
    "trend",
    "tests",
    trend ? 1 : 0,
    Math.abs(trend?.change ?? 0),
    0,
    evidence,
    out,
    trend?.from ?? at,
  );
  // Its numbers are those of the newest test, whichever test was the worst.
  const { open } = state.conditions.trend;
  if (open && trend) open.evidence = evidence();
}

/**
 * The results since the plan in force at `at` began, each by as much as the plan has asked for since: a course of treatment that goes as planned
 * stands still. Where none is in force, those that were under none.
 */
function againstPlan(
  results: readonly TestResult[],
  stream: Pick<StreamSettings, "plans">,
  at: Instant,
): readonly TestResult[] {
  if (stream.plans.length === 0) return results;
  const plan = planInForce(stream, at);
  const alike = results.filter(([when]) => planInForce(stream, when) === plan);
  if (plan === undefined) return alike;
  const now = planAt(plan.shape, at);
  return alike.map(([when, value]) => [when, value - planAt(plan.shape, when) + now] as const);
}

/** More animals were counted than last time, or fewer: wants a look until another count confirms it. */
function judgeCount(judged: JudgeContext, out: Outputs): void {
  const { state, at, value } = judged;
  const last = state.results?.at(-1);
  state.results = [[at, value]];
  if (!last) return;
  const threshold = miscount(last[1]);
  const by = value - last[1];
  const evidence = () => ({ from: last[1], to: value, threshold });
  // Whether it is confirmed or yet another number: what the count before said is over.
  stepImmediateCondition(judged, "step", by > 0 ? "more" : "fewer", 0, 0, 0, evidence, out);
  if (Math.abs(by) <= threshold) return;
  stepImmediateCondition(judged, "step", by > 0 ? "more" : "fewer", 1, Math.abs(by), 0, evidence, out);
}
